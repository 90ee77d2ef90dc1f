import { join } from 'node:path'
import { fileSha256 } from '../../files/fileSha256.js'
import { mapFew } from '../../files/mapFew.js'
import type { Walk } from '../read/walk.js'
import type { WalkResults } from '../schemas/resultsSchema.js'
import type { StillTaskResult } from '../stills/stillTask.js'
import type { StillStore } from '../store/stillStore.js'
import { type MeasuringPlan, planMeasuring } from './planMeasuring.js'
import { threadsWorth, workerCount } from './stillPool.js'
import { type StillRunner, stillRunner } from './stillRunner.js'

/** How a walk is measured. */
export interface MeasureWalkOptions {
  /** Threads to measure on; where null or not given, one a core as far as there is work for them. */
  readonly workers?: number | null
  /** Called after every still. */
  readonly onProgress?: (done: number, all: number) => void
  /** Where what was measured is kept, and had from again; nowhere where null or not given. */
  readonly store?: StillStore | null
  /** Whether the stills are registered against each other by what does not move in them; yes unless said. */
  readonly scene?: boolean
  /** What the stills are measured by, which then goes on after them; a runner on `store` of its own where it is not given. */
  readonly runner?: StillRunner
}

/**
 * Measures and judges a walk: finds its stills, measures each where it has corners, fits the walk's own lens, and judges marks, ranges and
 * promises. Files that are not measured are listed with their reason. The same walk gives the same results on any number of threads, with a store and without.
 * @throws `ProofwalkErrors` where picks.json is at fault
 */
export async function measureWalk(walk: Walk, options: MeasureWalkOptions = {}): Promise<WalkResults> {
  const { store = null, scene = true } = options
  // The threads have ended, and given back their memory, before anything is judged.
  const { plan, measured } = await measureStills(walk, options)
  const results = await resultsFrom(walk, plan, measured, store, scene)
  await store?.sweep()
  return results
}

async function measureStills(
  walk: Walk,
  options: MeasureWalkOptions,
): Promise<{ readonly plan: MeasuringPlan; readonly measured: readonly StillTaskResult[] }> {
  const { store = null, onProgress, workers: asked = null } = options
  const plan = await planMeasuring(walk)
  const most = workerCount(asked, Infinity)
  const workers = asked === null ? threadsWorth(plan.tasks, most) : most
  const runner = options.runner ?? stillRunner(workers, store)
  try {
    let done = 0
    const measured = await mapFew(plan.tasks, workers + AHEAD, async (task) => {
      const result = await runner.run(task)
      onProgress?.(++done, plan.tasks.length)
      return result
    })
    return { plan, measured }
  } finally {
    if (options.runner === undefined) await runner.close()
  }
}

/** So many tasks more than threads are under way: looked for in the store, or waiting so that no thread does. */
const AHEAD = 2

/** The results that what came of the tasks makes: as kept, where they were made from the same. */
async function resultsFrom(
  walk: Walk,
  plan: MeasuringPlan,
  measured: readonly StillTaskResult[],
  store: StillStore | null,
  isRegistered: boolean,
): Promise<WalkResults> {
  const madeFrom = store === null ? null : await whatJudges(walk, plan, measured, isRegistered)
  const kept = madeFrom === null ? null : ((await store?.findResults(madeFrom)) ?? null)
  if (kept !== null) return kept
  const [{ judgeMeasured }, { resultsOf }, { lookingAgain }, { noWitness, sceneWitness }] = await Promise.all(
    [
      import('./judgeMeasured.js'),
      import('./resultsOf.js'),
      import('../stills/lookAgain.js'),
      import('../scene/sceneWitness.js'),
    ],
  )
  const witness = isRegistered ? sceneWitness(walk.dir, store) : noWitness
  const judged = await judgeMeasured(walk, plan, measured, lookingAgain(walk.dir), witness)
  const results = resultsOf(walk, plan, judged)
  if (madeFrom !== null && isOf(results, madeFrom)) await store?.keepResults(madeFrom, results)
  return results
}

/** All that a walk is judged by: what came of a still that could be measured is told by its hash and its task. */
interface MadeFrom {
  readonly walk: Walk
  readonly isRegistered: boolean
  readonly picks: string | null
  readonly readings: string | null
  readonly found: MeasuringPlan['found']
  readonly plan: MeasuringPlan['plan']
  readonly measured: readonly unknown[]
  /** The hashes of the stills without corners, which are opened as the walk is judged. */
  readonly unpicked: readonly (string | null)[]
}

async function whatJudges(
  walk: Walk,
  { picks, found, plan, readings }: MeasuringPlan,
  measured: readonly StillTaskResult[],
  isRegistered: boolean,
): Promise<MadeFrom> {
  return {
    walk: { ...walk, dir: '' },
    isRegistered,
    picks: picks.sha256,
    readings: readings?.sha256 ?? null,
    found,
    plan,
    measured: measured.map((one) => (one.ok ? one.sha256 : [one.sha256, one.code, one.message])),
    unpicked: await mapFew(plan.unpicked, AHEAD, ({ file }) => fileSha256(join(walk.dir, file))),
  }
}

/** Whether the stills without corners were, when they were opened, those that were hashed before. */
function isOf(results: WalkResults, { plan, unpicked }: MadeFrom): boolean {
  return plan.unpicked.every(({ file }, index) => {
    const sha256 = results.failed.find((one) => one.file === file)?.sha256 ?? null
    return sha256 !== null && sha256 === unpicked[index]
  })
}
