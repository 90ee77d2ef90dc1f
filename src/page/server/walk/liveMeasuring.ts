import { judgeMeasured } from '../../../walk/measure/judgeMeasured.js'
import { resultsOf } from '../../../walk/measure/resultsOf.js'
import { entryKey, type WalkResults } from '../../../walk/schemas/resultsSchema.js'
import { workerCount } from '../../../walk/measure/stillPool.js'
import { stillRunner, type StillRunner } from '../../../walk/measure/stillRunner.js'
import type { StillTask, StillTaskResult } from '../../../walk/stills/stillTask.js'
import type { QuietTime } from '../reply/quietTime.js'
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
  /**
   * What came of a still's pick of a reference, or of looking for a chart where `reference` is null: null while it is not measured; undefined where nothing
   * is to be measured.
   */
  resultOf(file: string, reference: string | null): StillTaskResult | null | undefined
  progress(): Progress
  /** Counts what changes `results`: the same number, the same results. */
  identity(): number
  /** The walk judged by what is measured so far. */
  results(): Promise<WalkResults>
  /** Measures the rest on all cores; resolves once all is measured. */
  finish(): Promise<void>
  close(): Promise<void>
}

/** Measuring in the background is put off while somebody waits for something else, but no longer than this: this project's convention. */
const MOST_PUT_OFF_MS = 1500

/** A task by its still and the reference it was picked on, null where a chart is looked for. */
function entryOf({ file, subject }: StillTask): string {
  return entryKey({ file, reference: subject.kind === 'picked' ? subject.reference.name : null })
}

/** Live measuring of one walk; `onMeasured` is told the path of each still as it is measured. */
export function liveMeasuring(
  first: FolderReading,
  onMeasured: (file: string) => void,
  quiet: QuietTime,
): LiveMeasuring {
  const known = new Map<string, StillTaskResult>()
  const running = new Map<string, Promise<void>>()
  let reading = first
  let keys: readonly string[] = []
  let keyOfEntry: ReadonlyMap<string, string> = new Map()
  let runner: Promise<StillRunner> | null = null
  let atOnce = 1
  let closed = false
  let version = 0
  let judged: { readonly of: number; readonly results: Promise<WalkResults> } | null = null
  let waiting: (() => void)[] = []

  const keyOf = (task: StillTask): string => JSON.stringify([reading.stamps.get(task.file), task])
  const pending = (): number[] =>
    [...keys.keys()].filter((index) => !known.has(keys[index]!) && !running.has(keys[index]!))

  const pump = (): void => {
    for (;;) {
      const open = pending()
      // a pick takes a moment and somebody waits for it, so it goes before and beside the search for a chart
      const pick = open.find((index) => reading.plan.tasks[index]!.subject.kind === 'picked')
      const next = pick ?? open[0]
      if (closed || next === undefined || running.size >= atOnce + (pick === undefined ? 0 : 1)) break
      start(reading.plan.tasks[next]!, keys[next]!)
    }
    if (closed || (running.size === 0 && pending().length === 0)) {
      atOnce = 1
      for (const wake of waiting.splice(0)) wake()
    }
  }
  const start = (task: StillTask, key: string): void => {
    const run = (atOnce === 1 ? quiet.come(MOST_PUT_OFF_MS) : Promise.resolve())
      .then(() => (runner ??= stillRunner(workerCount(null, 8))))
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
        version++
        onMeasured(task.file)
        pump()
      })
    running.set(key, run)
  }
  const done = (): (StillTaskResult | null)[] => keys.map((key) => known.get(key) ?? null)
  const follow = (next: FolderReading): void => {
    reading = next
    version++
    keys = reading.plan.tasks.map(keyOf)
    keyOfEntry = new Map(reading.plan.tasks.map((task, index) => [entryOf(task), keys[index]!]))
    setImmediate(pump)
  }
  follow(first)
  return {
    identity: () => version,
    follow,
    resultOf(file, reference) {
      const key = keyOfEntry.get(entryKey({ file, reference }))
      return key === undefined ? undefined : (known.get(key) ?? null)
    },
    progress: () => ({ done: done().filter((one) => one !== null).length, all: keys.length }),
    results() {
      const { walk, plan } = reading
      if (judged?.of !== version) {
        const results = judgeMeasured(walk, plan, done()).then((all) => resultsOf(walk, plan, all))
        judged = { of: version, results }
      }
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
