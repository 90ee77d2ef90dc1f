import { join } from 'node:path'
import { type Picks, readPicks } from '../read/readPicks.js'
import type { Walk } from '../read/walk.js'
import { type FoundStills, findStills } from '../stills/findStills.js'
import type { FolderFile } from '../stills/listStillFiles.js'
import { type StillPlan, planStills } from '../stills/planStills.js'
import type { StillTask } from '../stills/stillTask.js'

/** What there is to measure of a walk: its files as they were read, what becomes of each still, and a task for each that can be measured. */
export interface MeasuringPlan {
  readonly picks: Picks
  readonly found: FoundStills
  readonly plan: StillPlan
  /** In the order of `plan.planned`. */
  readonly tasks: readonly StillTask[]
}

/**
 * Finds the stills of a walk (among the files `listed`, where those are known) and plans their measuring by its picks.json, or by `known` picks; nothing is opened.
 * @throws `ProofwalkErrors` where picks.json is at fault
 */
export async function planMeasuring(
  walk: Walk,
  listed?: readonly FolderFile[],
  known?: Picks,
): Promise<MeasuringPlan> {
  const picks = known ?? (await readPicks(walk.dir))
  const found = await findStills(walk, listed)
  const plan = planStills(walk, found, picks)
  const tasks = plan.planned.map(({ task }) => ({ ...task, path: join(walk.dir, task.file) }))
  return { picks, found, plan, tasks }
}
