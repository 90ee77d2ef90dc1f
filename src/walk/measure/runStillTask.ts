import { ProofwalkError } from '../../errors.js'
import { failure, success, type Outcome } from '../../math/outcome.js'
import type { MeasuredChart } from '../../measure/chart/measureChart.js'
import { measureStill } from '../../measure/measureStill.js'
import type { Pick } from '../../measure/reference/pick.js'
import type { Reference } from '../../measure/reference/reference.js'
import { openStill, type StillFile } from '../../still/openStill.js'
import type { StillPixels } from '../../still/raster.js'
import { roundNumbers } from '../../units/roundNumbers.js'
import { findStillChart } from './findStillChart.js'
import { stillsSays } from '../stills/sentences.js'
import type { StillTask, StillTaskResult } from '../stills/stillTask.js'

/** What a still is measured on: its pixels, the reference, and its points, as given or as found. */
interface Subject {
  readonly pixels: StillPixels
  readonly reference: Reference
  readonly pick: Pick
  readonly chart: MeasuredChart | null
}

/**
 * Opens, checks and measures the still of a task. Never throws for a bad still: the reason is the result.
 * @throws what is a fault of our own
 */
export async function runStillTask(task: StillTask): Promise<StillTaskResult> {
  const still = await openStill(task.path)
  if (!still.ok) return { ...still, sha256: null }
  const { sha256, takenAt, remarks } = still.value
  try {
    const subject = await subjectOf(still.value, task)
    if (!subject.ok) return { ...subject, sha256 }
    const { pixels, reference, pick, chart } = subject.value
    const measured = await measureStill(pixels, { ...task, reference, pick, chart })
    if (!measured.ok) return { ...measured, sha256 }
    const problems = [...remarks, ...measured.value.problems]
    const measurement = { ...measured.value, problems }
    return { ok: true, sha256, takenAt, reference, pick, measurement }
  } catch (error) {
    if (error instanceof ProofwalkError) return { ...failure({ ...error, message: error.message }), sha256 }
    throw error
  }
}

async function subjectOf(still: StillFile, { subject }: StillTask): Promise<Outcome<Subject>> {
  if (subject.kind === 'chart') {
    const found = await findStillChart(still, subject)
    if (!found.ok) return found
    const { chart } = found.value
    // As results keep it: what is judged from them again must come out the same.
    return success({ ...found.value, pick: roundNumbers(chart.pick) })
  }
  const { reference, pick, pickedSha256 } = subject
  if (pickedSha256 !== null && pickedSha256 !== still.sha256) {
    return failure(stillsSays['pick-stale']())
  }
  return success({ pixels: still, reference, pick, chart: null })
}
