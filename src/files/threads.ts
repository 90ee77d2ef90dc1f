import { parentPort, Worker } from 'node:worker_threads'
import { type FaultPlace, type FailureStatus, ProofwalkError } from '../errors.js'

/** Threads that run one task after the other, each a process' worth of trouble that stays its own. */
export interface Threads<Task, Result> {
  /**
   * What comes of a task, on the first thread that is free; `onTold` hears what the task tells meanwhile. A task under way when the threads are closed never ends.
   * @throws `ProofwalkError` as thrown on the thread, `ThreadEnd` where the thread was lost, and what is a fault of our own
   */
  run(task: Task, onTold?: (told: unknown) => void): Promise<Result>
  /** Starts a first thread before there is a task. */
  warm(): void
  /** Ends the threads at once. */
  close(): Promise<void>
}

/** How many threads at most, and what one task may take; a thread that takes more is ended. */
export interface ThreadLimits {
  readonly threads: number
  readonly taskMs: number
  /** Of the memory of the language; decoded pixels come on top. */
  readonly heapMb: number
}

/** Why a thread was lost with its task. */
export class ThreadEnd extends Error {
  readonly why: 'took-too-long' | 'out-of-memory' | 'died'

  constructor(why: ThreadEnd['why'], message: string) {
    super(message)
    this.name = 'ThreadEnd'
    this.why = why
  }
}

/** What crosses back from a thread: classes do not, so a fault is carried by its parts. */
type Answer =
  | { readonly kind: 'told'; readonly value: unknown }
  | { readonly kind: 'result'; readonly value: unknown }
  | { readonly kind: 'error'; readonly value: unknown }
  | { readonly kind: 'fault'; readonly value: FaultParts }
interface FaultParts {
  readonly code: string
  readonly message: string
  readonly place: FaultPlace
  readonly exitStatus: FailureStatus
}

interface Waiting {
  readonly task: unknown
  readonly onTold: ((told: unknown) => void) | undefined
  readonly resolve: (result: never) => void
  readonly reject: (error: unknown) => void
}

/** Threads of a script that calls `answerTasks`, started as tasks come. */
export function startThreads<Task, Result>(script: URL, limits: ThreadLimits): Threads<Task, Result> {
  const waiting: Waiting[] = []
  const idle: Worker[] = []
  const running = new Set<Worker>()
  let isClosed = false

  const start = (): Worker => {
    const worker = new Worker(script, { resourceLimits: { maxOldGenerationSizeMb: limits.heapMb } })
    running.add(worker)
    // One that is lost between two tasks is only not there for the next.
    const forget = (): void => {
      running.delete(worker)
      const at = idle.indexOf(worker)
      if (at >= 0) idle.splice(at, 1)
    }
    worker.on('error', forget).on('exit', forget)
    return worker
  }
  const next = (): void => {
    while (waiting.length > 0 && !isClosed) {
      const worker = idle.pop() ?? (running.size < limits.threads ? start() : null)
      if (worker === null) return
      const task = waiting.shift()!
      void runOn(worker, task, limits.taskMs).then((stays) => {
        if (stays) {
          worker.unref()
          idle.push(worker)
        } else running.delete(worker)
        next()
      })
    }
  }
  return {
    run: (task, onTold) =>
      new Promise<Result>((resolve, reject) => {
        waiting.push({ task, onTold, resolve, reject })
        next()
      }),
    warm() {
      if (running.size > 0) return
      const worker = start()
      worker.unref()
      idle.push(worker)
    },
    async close() {
      isClosed = true
      await Promise.all([...running].map((worker) => worker.terminate()))
    },
  }
}

/** Runs a task on a thread and settles it; whether the thread may take another. */
function runOn(worker: Worker, { task, onTold, resolve, reject }: Waiting, taskMs: number): Promise<boolean> {
  return new Promise((settle) => {
    const end = (stays: boolean): void => {
      clearTimeout(late)
      worker.off('message', onMessage).off('error', onError).off('exit', onExit)
      settle(stays)
    }
    const lose = (why: ThreadEnd['why'], message: string): void => {
      end(false)
      reject(new ThreadEnd(why, message))
    }
    const onMessage = ({ kind, value }: Answer): void => {
      if (kind === 'told') return onTold?.(value)
      end(true)
      if (kind === 'result') resolve(value as never)
      else reject(kind === 'fault' ? faultOf(value) : value)
    }
    const onError = (error: NodeJS.ErrnoException): void =>
      lose(error.code === 'ERR_WORKER_OUT_OF_MEMORY' ? 'out-of-memory' : 'died', error.message)
    const onExit = (status: number): void => lose('died', `status ${status}`)
    const late = setTimeout(() => {
      lose('took-too-long', `${taskMs} ms`)
      void worker.terminate()
    }, taskMs)
    worker.on('message', onMessage).on('error', onError).on('exit', onExit)
    worker.ref()
    worker.postMessage(task)
  })
}

function faultOf({ code, message, place, exitStatus }: FaultParts): ProofwalkError {
  return new ProofwalkError(code, message, place, exitStatus)
}

/** The thread's own side: answers each task that comes with what `run` makes of it, which may tell something meanwhile. */
export function answerTasks<Task>(
  run: (task: Task, tell: (told: unknown) => void) => Promise<unknown>,
): void {
  const port = parentPort!
  const answer = (one: Answer): void => port.postMessage(one)
  port.on('message', (task: Task) => {
    run(task, (value) => answer({ kind: 'told', value })).then(
      (value) => answer({ kind: 'result', value }),
      (error: unknown) => {
        if (!(error instanceof ProofwalkError)) return answer({ kind: 'error', value: error })
        const { code, message, place, exitStatus } = error
        answer({ kind: 'fault', value: { code, message, place, exitStatus } })
      },
    )
  })
}
