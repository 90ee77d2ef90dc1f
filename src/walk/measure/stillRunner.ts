import { fileURLToPath } from 'node:url'
import type { StillTask, StillTaskResult } from '../stills/stillTask.js'

/** Measures stills beside this thread, as they come. */
export interface StillRunner {
  run(task: StillTask): Promise<StillTaskResult>
  /** Ends the threads at once; what still runs is lost. */
  close(): Promise<void>
}

/** A runner of so many threads at most. With none, and where the sources run as they are, all runs on this thread. */
export async function stillRunner(threads: number): Promise<StillRunner> {
  if (threads === 0 || import.meta.url.endsWith('.ts')) return onThisThread()
  const { Piscina } = await import('piscina')
  const filename = fileURLToPath(new URL('./stillWorker.js', import.meta.url))
  const pool = new Piscina({ filename, minThreads: 0, maxThreads: threads })
  return {
    run: async (task) => (await pool.run(task)) as StillTaskResult,
    close: () => pool.destroy(),
  }
}

/** One after the other, so that no more than one still is in memory. */
async function onThisThread(): Promise<StillRunner> {
  const { runStillTask } = await import('./runStillTask.js')
  let last: Promise<unknown> = Promise.resolve()
  let isClosed = false
  return {
    run(task) {
      const result = last.then(() => (isClosed ? new Promise<never>(() => undefined) : runStillTask(task)))
      last = result.catch(() => undefined)
      return result
    },
    close() {
      isClosed = true
      return Promise.resolve()
    },
  }
}
