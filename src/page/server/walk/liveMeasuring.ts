import { judgeMeasured } from '../../../walk/measure/judgeMeasured.js'
import { resultsOf } from '../../../walk/measure/resultsOf.js'
import { noWitness, sceneWitness } from '../../../walk/scene/sceneWitness.js'
import type { WalkResults } from '../../../walk/schemas/resultsSchema.js'
import { workerCount } from '../../../walk/measure/stillPool.js'
import { stillRunner, type StillRunner } from '../../../walk/measure/stillRunner.js'
import { type LookAgain, lookingAgain } from '../../../walk/stills/lookAgain.js'
import type { StillStore } from '../../../walk/store/stillStore.js'
import type { StillTask, StillTaskResult } from '../../../walk/stills/stillTask.js'
import { chartsBeside } from '../../../walk/stills/chartsBeside.js'
import { groupBy } from '../../../math/groupBy.js'
import type { QuietTime } from '../reply/quietTime.js'
import type { FolderReading } from './readFolder.js'

/** How far the measuring is. */
interface Progress {
  readonly done: number
  readonly all: number
}

/** Measuring in the background is put off while somebody waits for something else, but no longer than this: this project's convention. */
const MOST_PUT_OFF_MS = 1500

/** Something to be measured of a still, and what came of it: null while it is not measured, or where there was nothing to tell. */
export interface TaskSoFar {
  readonly task: StillTask
  readonly result: StillTaskResult | null
}

/** Measures a walk's stills in the background as they are picked, and keeps what it measured. */
export class LiveMeasuring {
  readonly #onMeasured: (file: string) => void
  readonly #quiet: QuietTime
  readonly #store: StillStore
  readonly #runner: StillRunner
  readonly #known = new Map<string, StillTaskResult>()
  readonly #running = new Set<string>()
  #reading: FolderReading
  readonly #look: LookAgain
  /** What each task of the reading is known by: the same key, the same still, points and reference. */
  #keys: readonly string[] = []
  /** Where the tasks of a still stand among them. */
  #byFile: ReadonlyMap<string, readonly number[]> = new Map()
  #atOnce = 1
  #closed = false
  #version = 0
  #judged: { readonly of: number; readonly results: Promise<WalkResults> } | null = null
  #waiting: (() => void)[] = []

  /** What is in the store is not measured again; `onMeasured` is told the path of each still as it is measured. */
  constructor(first: FolderReading, store: StillStore, onMeasured: (file: string) => void, quiet: QuietTime) {
    this.#runner = stillRunner(workerCount(null, 8), store)
    this.#onMeasured = onMeasured
    this.#quiet = quiet
    this.#store = store
    this.#reading = first
    this.#look = lookingAgain(first.walk.dir)
    this.follow(first)
  }

  /** From now on the stills of this reading count. What was measured of the same still, points and reference stands. */
  follow(reading: FolderReading): void {
    this.#reading = reading
    this.#version++
    const { tasks } = reading.plan
    this.#keys = tasks.map((task) => JSON.stringify([reading.stamps.get(task.file), task]))
    this.#byFile = groupBy([...tasks.keys()], (index) => tasks[index]!.file)
    setImmediate(() => this.#pump())
  }

  /** All that is to be measured of a still: its picks, and the chart where it is looked for. */
  tasksOf(file: string): readonly TaskSoFar[] {
    const at = this.#byFile.get(file) ?? []
    const tasks = at.map((index) => this.#reading.plan.tasks[index]!)
    const so = at.map((index) => this.#known.get(this.#keys[index]!) ?? null)
    return chartsBeside(tasks, so).map((result, index) => ({ task: tasks[index]!, result }))
  }

  progress(): Progress {
    return { done: this.#done().filter((one) => one !== null).length, all: this.#keys.length }
  }

  /** Counts what changes `results`: the same number, the same results. */
  identity(): number {
    return this.#version
  }

  /** The walk judged by what is measured so far. */
  results(): Promise<WalkResults> {
    if (this.#judged?.of !== this.#version) {
      const { walk, plan } = this.#reading
      const done = this.#done()
      // While stills are still to come, nobody waits for how they lie against each other.
      const witness = done.includes(null) ? noWitness : sceneWitness(walk.dir, this.#store)
      const results = judgeMeasured(walk, plan, done, this.#look, witness).then((all) =>
        resultsOf(walk, plan, all),
      )
      this.#judged = { of: this.#version, results }
    }
    return this.#judged.results
  }

  /** Measures the rest on all cores; resolves once all is measured. */
  async finish(): Promise<void> {
    this.#atOnce = workerCount(null, 8)
    this.#pump()
    if (!this.#isIdle()) await new Promise<void>((resolve) => this.#waiting.push(resolve))
  }

  async close(): Promise<void> {
    this.#closed = true
    this.#wake()
    await this.#runner.close()
  }

  #done(): (StillTaskResult | null)[] {
    return this.#keys.map((key) => this.#known.get(key) ?? null)
  }

  #pending(): number[] {
    return [...this.#keys.keys()].filter(
      (index) => !this.#known.has(this.#keys[index]!) && !this.#running.has(this.#keys[index]!),
    )
  }

  #isIdle(): boolean {
    return this.#closed || (this.#running.size === 0 && this.#pending().length === 0)
  }

  #wake(): void {
    for (const wake of this.#waiting.splice(0)) wake()
  }

  #pump(): void {
    const { tasks } = this.#reading.plan
    for (;;) {
      const open = this.#pending()
      // A pick takes a moment and somebody waits for it, so it goes before and beside the search for a chart.
      const pick = open.find((index) => tasks[index]!.subject.kind === 'picked')
      const next = pick ?? open[0]
      const most = this.#atOnce + (pick === undefined ? 0 : 1)
      if (this.#closed || next === undefined || this.#running.size >= most) break
      void this.#start(tasks[next]!, this.#keys[next]!)
    }
    if (!this.#isIdle()) return
    this.#atOnce = 1
    this.#wake()
  }

  async #start(task: StillTask, key: string): Promise<void> {
    this.#running.add(key)
    const result = await this.#measured(task)
    this.#running.delete(key)
    if (this.#closed) return
    this.#known.set(key, result)
    this.#version++
    this.#onMeasured(task.file)
    this.#pump()
  }

  async #measured(task: StillTask): Promise<StillTaskResult> {
    try {
      if (this.#atOnce === 1) await this.#quiet.come(MOST_PUT_OFF_MS)
      return await this.#runner.run(task)
    } catch (error) {
      const message = error instanceof Error ? error.message : String(error)
      return { ok: false, code: 'fault', sha256: null, message }
    }
  }
}
