import type { Density } from '../../measure/stillMeasurement.js'
import { stillsSays } from './sentences.js'
import type { StillTask, StillTaskResult } from './stillTask.js'

/** A chart whose density is off that of what was picked by more than this share stands at another distance. This project's convention. */
const BESIDE_REL = 0.1

/**
 * What came of the tasks, those of charts looked for beside something that was picked taken for what they are: one that is not there is no fault, and one that stands
 * nearer or farther than what was picked in its still tells nothing of that mark. Null stays null, and where there was nothing to tell.
 */
export function chartsBeside(
  tasks: readonly StillTask[],
  done: readonly (StillTaskResult | null)[],
): readonly (StillTaskResult | null)[] {
  return done.map((result, index) => {
    const { subject, file } = tasks[index]!
    if (result === null || subject.kind === 'picked' || subject.beside !== true) return result
    if (!result.ok) return result.code === 'chart-none' ? null : result
    const picked = done.find((one, at) => {
      const task = tasks[at]!
      return one?.ok === true && task.file === file && task.subject.kind === 'picked'
    })
    if (picked?.ok !== true) return result
    const ratio = across(result.measurement.density) / across(picked.measurement.density)
    if (Math.abs(Math.log(ratio)) <= BESIDE_REL) return result
    return { ok: false, ...stillsSays['chart-elsewhere'](), sha256: result.sha256 }
  })
}

/** px/m along the axis that shows more: a reference held turned loses on one. */
function across({ horizontal, vertical, onTarget }: Density): number {
  return Math.max(horizontal ?? onTarget, vertical ?? onTarget)
}
