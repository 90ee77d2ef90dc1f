import { existsSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { runStillTask } from './runStillTask.js'
import type { StillTask, StillTaskResult } from '../stills/stillTask.js'

/** Measures stills beside this thread, as they come. */
export interface StillRunner {
  run(task: StillTask): Promise<StillTaskResult>
  /** Ends the threads at once; what still runs is lost. */
  close(): Promise<void>
}

/** A runner of so many threads at most. Where the compiled worker is not there (the sources run as they are), all runs on this thread. */
export async function stillRunner(threads: number): Promise<StillRunner> {
  const script = fileURLToPath(new URL('./stillWorker.js', import.meta.url))
  if (!existsSync(script)) return onThisThread()
  const { Piscina } = await import('piscina')
  const pool = new Piscina({ filename: script, minThreads: 0, maxThreads: threads })
  return {
    run: async (task) => (await pool.run(task)) as StillTaskResult,
    close: () => pool.destroy(),
  }
}

/** One after the other, so that no more than one still is in memory. */
function onThisThread(): StillRunner {
  let last: Promise<unknown> = Promise.resolve()
  return {
    run(task) {
      const result = last.then(() => runStillTask(task))
      last = result.catch(() => undefined)
      return result
    },
    close: () => Promise.resolve(),
  }
}
