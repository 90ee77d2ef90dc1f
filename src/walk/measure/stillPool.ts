import { availableParallelism } from 'node:os'
import { stillRunner } from './stillRunner.js'
import type { StillTask, StillTaskResult } from '../stills/stillTask.js'

/** How many threads measure: as asked, by default one a core and at most 8, never more than there are stills. */
export function workerCount(asked: number | null, stills: number): number {
  const wanted = asked ?? Math.min(8, availableParallelism())
  return Math.max(1, Math.min(wanted, stills))
}

/**
 * Runs the tasks on `workers` threads and returns their results in the order of the tasks, whatever the order they ended in.
 * With one worker all runs on this thread.
 * @throws what is a fault of our own, or of a thread
 */
export async function runStillTasks(
  tasks: readonly StillTask[],
  workers: number,
  onDone: (done: number) => void,
): Promise<StillTaskResult[]> {
  let done = 0
  const counted = (result: StillTaskResult): StillTaskResult => {
    onDone(++done)
    return result
  }
  const runner = await stillRunner(workers <= 1 ? 0 : workers)
  try {
    return await Promise.all(tasks.map(async (task) => counted(await runner.run(task))))
  } finally {
    await runner.close()
  }
}
