import { ProofwalkError } from '../errors.js'
import { failure } from '../math/outcome.js'
import { measureStill } from '../measure/measureStill.js'
import { openStill } from '../still/openStill.js'
import type { StillTask, StillTaskResult } from './stillTask.js'

/** Opens, checks and measures the still of a task. Never throws for a bad still: the reason is the result. */
export async function runStillTask(task: StillTask): Promise<StillTaskResult> {
  const still = await openStill(task.path)
  if (!still.ok) return still
  if (task.pickedSha256 !== null && task.pickedSha256 !== still.value.sha256) {
    return failure('pick-stale', 'the still has changed since its corners were picked; pick them again')
  }
  try {
    const measured = await measureStill(still.value, task)
    if (!measured.ok) return measured
    const problems = [...still.value.remarks, ...measured.value.problems]
    return { ok: true, sha256: still.value.sha256, measurement: { ...measured.value, problems } }
  } catch (error) {
    if (error instanceof ProofwalkError) return failure(error.code, error.message)
    throw error
  }
}
