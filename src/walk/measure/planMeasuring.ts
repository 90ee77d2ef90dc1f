import { join } from 'node:path'
import { type Picks, readPicks } from '../read/readPicks.js'
import type { Walk } from '../read/walk.js'
import { type FoundStills, findStills } from '../stills/findStills.js'
import type { FolderFile } from '../stills/listStillFiles.js'
import { type StillPlan, planStills } from '../stills/planStills.js'
import type { StillTask } from '../stills/stillTask.js'
import { type FoundReadings, readReadings } from '../trial/readReadings.js'
import type { ScoredReadings } from '../trial/scoreReadings.js'

/** What there is to measure of a walk: its files as they were read, what becomes of each still, and a task for each that can be measured. */
export interface MeasuringPlan {
  readonly picks: Picks
  readonly found: FoundStills
  readonly plan: StillPlan
  /** In the order of `plan.planned`. */
  readonly tasks: readonly StillTask[]
  /** What was read on the walk, or where readings.json is not at hand, its scores as results have them; null where there was no trial. */
  readonly readings: FoundReadings | ScoredReadings | null
}

/**
 * Finds the stills of a walk (among the files `listed`, where those are known) and plans their measuring by its picks.json, or by `known` picks and scores; nothing is opened.
 * @throws `ProofwalkErrors` where picks.json is at fault, `ProofwalkError` `bad-readings`
 */
export async function planMeasuring(
  walk: Walk,
  listed?: readonly FolderFile[],
  known?: { readonly picks: Picks; readonly readings: ScoredReadings | null },
): Promise<MeasuringPlan> {
  const picks = known?.picks ?? (await readPicks(walk.dir))
  const readings = known === undefined ? await readReadings(walk.dir) : known.readings
  const found = await findStills(walk, listed)
  const plan = planStills(walk, found, picks)
  const tasks = plan.planned.map(({ task }) => ({ ...task, path: join(walk.dir, task.file) }))
  return { picks, found, plan, tasks, readings }
}
