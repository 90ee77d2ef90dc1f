import { fileURLToPath } from 'node:url'
import type { StillStore } from '../store/stillStore.js'
import type { StillTask, StillTaskResult } from '../stills/stillTask.js'

/** Measures stills beside this thread, as they come. */
export interface StillRunner {
  /**
   * What comes of a task: had from the store where it is kept, else measured and kept.
   * @throws what is a fault of our own, or of a thread
   */
  run(task: StillTask): Promise<StillTaskResult>
  /** Ends the threads at once; what still runs is lost, and nothing is kept afterwards. */
  close(): Promise<void>
}

/** What a runner hands its tasks to. */
type Threads = Pick<StillRunner, 'run' | 'close'>

/**
 * A runner of so many threads at most, started when there is something to measure. With none, and where the sources run as they are, all runs on this thread, `atOnce` stills
 * at once: one is decoded beside the thread while another is measured on it.
 */
export function stillRunner(threads: number, store: StillStore | null, atOnce = 1): StillRunner {
  let started: Promise<Threads> | null = null
  let isClosed = false
  const keeping = new Set<Promise<void>>()
  const onThreads = (): Promise<Threads> => {
    const isHere = threads === 0 || import.meta.url.endsWith('.ts')
    return (started ??= isHere ? onThisThread(atOnce) : onOtherThreads(threads))
  }
  return {
    async run(task) {
      const known = (await store?.find(task)) ?? null
      if (known !== null) return known
      const result = await (await onThreads()).run(task)
      if (store === null || isClosed) return result
      const kept = store.keep(task, result)
      keeping.add(kept)
      await kept
      keeping.delete(kept)
      return result
    },
    async close() {
      isClosed = true
      await (await started)?.close()
      await Promise.all(keeping)
    },
  }
}

async function onOtherThreads(threads: number): Promise<Threads> {
  const { Piscina } = await import('piscina')
  const filename = fileURLToPath(new URL('./stillWorker.js', import.meta.url))
  // A thread that waits for the next task stays: one started in its stead would read all code again.
  const pool = new Piscina({ filename, minThreads: 1, maxThreads: threads, idleTimeout: Infinity })
  return {
    run: async (task) => (await pool.run(task)) as StillTaskResult,
    close: () => pool.destroy(),
  }
}

/** In so many rows one after the other, so that no more stills than that are in memory. */
async function onThisThread(rows: number): Promise<Threads> {
  const { runStillTask } = await import('./runStillTask.js')
  const last = Array.from({ length: rows }, (): Promise<unknown> => Promise.resolve())
  let row = 0
  let isClosed = false
  return {
    run(task) {
      row = (row + 1) % rows
      const result = last[row]!.then(() =>
        isClosed ? new Promise<never>(() => undefined) : runStillTask(task),
      )
      last[row] = result.catch(() => undefined)
      return result
    },
    close() {
      isClosed = true
      return Promise.resolve()
    },
  }
}
