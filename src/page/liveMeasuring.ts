import { judgeMeasured } from '../walk/measureWalk.js'
import type { WalkResults } from '../walk/resultsSchema.js'
import { workerCount } from '../walk/stillPool.js'
import { stillRunner, type StillRunner } from '../walk/stillRunner.js'
import type { StillTask, StillTaskResult } from '../walk/stillTask.js'
import type { FolderReading } from './readFolder.js'

/** How far the measuring is. */
export interface Progress {
  readonly done: number
  readonly all: number
}

/** Measures a walk's stills in the background as they are picked, and keeps what it measured. */
export interface LiveMeasuring {
  /** From now on the stills of this reading count. What was measured of the same still, points and reference stands. */
  follow(reading: FolderReading): void
  /** What came of a still, null while it is not measured; undefined where nothing is to be measured on it. */
  resultOf(file: string): StillTaskResult | null | undefined
  progress(): Progress
  /** What `results` judges by: the same text, the same results. */
  identity(): string
  /** The walk judged by what is measured so far. */
  results(): Promise<WalkResults>
  /** Measures the rest on all cores; resolves once all is measured. */
  finish(): Promise<void>
  close(): Promise<void>
}

/** Live measuring of one walk; `onMeasured` is told the path of each still as it is measured. */
export function liveMeasuring(first: FolderReading, onMeasured: (file: string) => void): LiveMeasuring {
  const known = new Map<string, StillTaskResult>()
  const running = new Map<string, Promise<void>>()
  let reading = first
  let keys: readonly string[] = []
  let runner: Promise<StillRunner> | null = null
  let atOnce = 1
  let closed = false
  let judged: { readonly of: string; readonly results: Promise<WalkResults> } | null = null
  let waiting: (() => void)[] = []

  const keyOf = (task: StillTask): string => JSON.stringify([reading.stamps.get(task.file), task])
  const pending = (): number[] =>
    [...keys.keys()].filter((index) => !known.has(keys[index]!) && !running.has(keys[index]!))

  const pump = (): void => {
    while (!closed && running.size < atOnce) {
      const open = pending()
      // a pick takes a moment and somebody waits for it; a chart is looked for while nobody does
      const next = open.find((index) => reading.plan.tasks[index]!.subject.kind === 'picked') ?? open[0]
      if (next === undefined) break
      start(reading.plan.tasks[next]!, keys[next]!)
    }
    if (closed || (running.size === 0 && pending().length === 0)) {
      atOnce = 1
      for (const wake of waiting.splice(0)) wake()
    }
  }
  const start = (task: StillTask, key: string): void => {
    runner ??= stillRunner(workerCount(null, 8))
    const run = runner
      .then((threads) => threads.run(task))
      .catch((error: unknown): StillTaskResult => ({
        ok: false,
        code: 'fault',
        sha256: null,
        message: error instanceof Error ? error.message : String(error),
      }))
      .then((result) => {
        running.delete(key)
        if (closed) return
        known.set(key, result)
        onMeasured(task.file)
        pump()
      })
    running.set(key, run)
  }
  const done = (): (StillTaskResult | null)[] => keys.map((key) => known.get(key) ?? null)
  const follow = (next: FolderReading): void => {
    reading = next
    keys = reading.plan.tasks.map(keyOf)
    setImmediate(pump)
  }
  const identity = (): string =>
    JSON.stringify([
      reading.walk.walkSha256,
      reading.plan.picks.sha256,
      keys,
      keys.map((key) => known.has(key)),
    ])
  follow(first)
  return {
    identity,
    follow,
    resultOf(file) {
      const index = reading.plan.tasks.findIndex((task) => task.file === file)
      return index < 0 ? undefined : (known.get(keys[index]!) ?? null)
    },
    progress: () => ({ done: done().filter((one) => one !== null).length, all: keys.length }),
    results() {
      const of = identity()
      if (judged?.of !== of) judged = { of, results: judgeMeasured(reading.walk, reading.plan, done()) }
      return judged.results
    },
    async finish() {
      atOnce = workerCount(null, 8)
      pump()
      if (!closed && (running.size > 0 || pending().length > 0)) {
        await new Promise<void>((resolve) => waiting.push(resolve))
      }
    },
    async close() {
      closed = true
      for (const wake of waiting.splice(0)) wake()
      waiting = []
      await (await runner)?.close()
    },
  }
}
