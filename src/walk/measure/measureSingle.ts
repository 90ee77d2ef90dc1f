import type { Grading } from '../../grade/gradings/grading.js'
import { gradeStill } from '../../grade/gradings/gradeStill.js'
import { type Outcome, success } from '../../math/outcome.js'
import type { StillEntry } from '../schemas/resultsSchema.js'
import { runStillTask } from './runStillTask.js'
import type { StillTask } from '../stills/stillTask.js'
import { stillEntry } from './stillEntry.js'
import { gradingNeeds } from '../stills/planStills.js'

/** What one still is measured with when there is no walk. */
export interface SingleStill {
  readonly path: string
  readonly subject: StillTask['subject']
  readonly distanceM: number | null
  readonly grading: Grading
  readonly judge: 'detail' | 'pixels'
}

/**
 * Measures and grades one still with no walk: the entry it would have in `results.json`, with no light.
 * @throws what is a fault of our own
 */
export async function measureSingle(single: SingleStill): Promise<Outcome<StillEntry>> {
  const measured = await runStillTask({
    path: single.path,
    file: single.path,
    subject: single.subject,
    distanceM: single.distanceM,
    lens: null,
    promisedSize: null,
    ...gradingNeeds(single.grading),
  })
  if (!measured.ok) return measured
  const graded = gradeStill(measured.measurement, single.grading, single.judge, null)
  const place = {
    file: single.path,
    sha256: measured.sha256,
    takenAt: measured.takenAt,
    light: null,
    distanceM: single.distanceM,
    reference: measured.reference.name,
    pick: measured.pick,
  }
  return success(stillEntry(place, measured.measurement, graded, graded.problems))
}
