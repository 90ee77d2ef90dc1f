import { availableParallelism } from 'node:os'

/** How many threads measure: as asked, by default one a core and at most 8, never more than there are stills. */
export function workerCount(asked: number | null, stills: number): number {
  const wanted = asked ?? Math.min(8, availableParallelism())
  return Math.max(1, Math.min(wanted, stills))
}
