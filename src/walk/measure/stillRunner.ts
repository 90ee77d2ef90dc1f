import { ProofwalkError } from '../../errors.js'
import { startThreads, ThreadEnd, type Threads as ThreadsOf } from '../../files/threads.js'
import { failure } from '../../math/outcome.js'
import { problem, type Said } from '../../sentences.js'
import { measuringSays } from './sentences.js'
import type { StillStore } from '../store/stillStore.js'
import type { StillTask, StillTaskResult } from '../stills/stillTask.js'

/** Measures stills beside this thread, as they come. */
export interface StillRunner {
  /** What comes of a task: had from the store where it is kept, else measured and kept. A still whose measuring hangs, dies or takes too much memory costs itself alone. */
  run(task: StillTask): Promise<StillTaskResult>
  /** Ends the threads at once; what still runs is lost, and nothing is kept afterwards. */
  close(): Promise<void>
}

/** What a runner hands its tasks to. */
type Threads = Pick<ThreadsOf<StillTask, StillTaskResult>, 'run' | 'warm' | 'close'>

/** What one still may take, at least ten times what the largest takes: this project's convention. */
const TASK_MS = 180_000
const HEAP_MB = 2000

/** A runner of so many threads at most, started when there is something to measure. With none, and where the sources run as they are, all runs on this thread. */
export function stillRunner(
  threads: number,
  store: StillStore | null,
  start: () => Threads = () =>
    threads === 0 || import.meta.url.endsWith('.ts') ? onThisThread() : onOtherThreads(threads),
): StillRunner {
  let started: Threads | null = null
  let isClosed = false
  const keeping = new Set<Promise<void>>()
  const onThreads = (): Threads => (started ??= start())
  return {
    async run(task) {
      const known = (await store?.find(task)) ?? null
      if (known !== null) return known
      const result = await onThreads().run(task).catch(lostStill)
      if (store === null || isClosed) return result
      const kept = store.keep(task, result)
      keeping.add(kept)
      await kept
      keeping.delete(kept)
      return result
    },
    async close() {
      isClosed = true
      await started?.close()
      await Promise.all(keeping)
    },
  }
}

function onOtherThreads(threads: number): Threads {
  const script = new URL('./stillWorker.js', import.meta.url)
  return startThreads<StillTask, StillTaskResult>(script, { threads, taskMs: TASK_MS, heapMb: HEAP_MB })
}

/** What came of a still that its measuring did not survive. */
function lostStill(error: unknown): StillTaskResult {
  const lost = (said: Said): StillTaskResult => ({ ...failure(problem(said)), sha256: null })
  if (error instanceof ProofwalkError)
    return { ...failure({ ...error, message: error.message }), sha256: null }
  if (error instanceof ThreadEnd && error.why === 'took-too-long')
    return lost(measuringSays['still-took-too-long'](TASK_MS))
  const isMemory = error instanceof RangeError && /allocation failed/.test(error.message)
  if (isMemory || (error instanceof ThreadEnd && error.why === 'out-of-memory'))
    return lost(measuringSays['still-out-of-memory']())
  return lost(measuringSays['still-died'](error instanceof Error ? error.message : String(error)))
}

/** One after the other, so that no more than one still is in memory. */
function onThisThread(): Threads {
  const code = (): Promise<typeof import('./runStillTask.js')> => import('./runStillTask.js')
  let last: Promise<unknown> = Promise.resolve()
  let isClosed = false
  return {
    run(task) {
      const result = last.then(async () =>
        isClosed ? new Promise<never>(() => undefined) : (await code()).runStillTask(task),
      )
      last = result.catch(() => undefined)
      return result
    },
    warm: () => void code(),
    close() {
      isClosed = true
      return Promise.resolve()
    },
  }
}
