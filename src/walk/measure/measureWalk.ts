import type { Walk } from '../read/walk.js'
import type { WalkResults } from '../schemas/resultsSchema.js'
import { lookingAgain } from '../stills/lookAgain.js'
import { judgeMeasured } from './judgeMeasured.js'
import { planMeasuring } from './planMeasuring.js'
import { resultsOf } from './resultsOf.js'
import { runStillTasks, workerCount } from './stillPool.js'

/** How a walk is measured. */
export interface MeasureWalkOptions {
  /** Threads to measure on; one a core where null or not given. */
  readonly workers?: number | null
  /** Called after every still. */
  readonly onProgress?: (done: number, all: number) => void
}

/**
 * Measures and judges a walk: finds its stills, measures each where it has corners, fits the walk's own lens, and judges marks, ranges and
 * promises. Files that are not measured are listed with their reason. The same walk gives the same results on any number of threads.
 * @throws `ProofwalkErrors` where picks.json is at fault
 */
export async function measureWalk(walk: Walk, options: MeasureWalkOptions = {}): Promise<WalkResults> {
  const plan = await planMeasuring(walk)
  const all = plan.tasks.length
  const threads = workerCount(options.workers ?? null, all)
  const measured = await runStillTasks(plan.tasks, threads, (done) => options.onProgress?.(done, all))
  return resultsOf(walk, plan, await judgeMeasured(walk, plan, measured, lookingAgain(walk.dir)))
}
