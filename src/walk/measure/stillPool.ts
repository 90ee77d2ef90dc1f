import { availableParallelism } from 'node:os'
import type { StillTask } from '../stills/stillTask.js'

/** How many threads measure: as asked, by default one a core and at most 8, never more than there are stills. */
export function workerCount(asked: number | null, stills: number): number {
  const wanted = asked ?? Math.min(8, availableParallelism())
  return Math.max(1, Math.min(wanted, stills))
}

/** So many stills with their points given cost as much as a thread does that reads and compiles all code once more. This project's convention. */
const WORTH_A_THREAD = 48

/** How many of `workers` threads are worth starting where nobody asked for so many: all where a chart is looked for, else one for so many stills. */
export function threadsWorth(tasks: readonly Pick<StillTask, 'subject'>[], workers: number): number {
  if (tasks.some(({ subject }) => subject.kind === 'chart')) return workers
  return Math.max(1, Math.min(workers, Math.floor(tasks.length / WORTH_A_THREAD)))
}
