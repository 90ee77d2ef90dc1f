import { decide } from '../../../grade/gradings/decide.js'
import { isWashedOut } from '../../../grade/gradings/gradeStill.js'
import type { Grade } from '../../../grade/gradings/grading.js'
import type { Verdict } from '../../../grade/judgement.js'
import { judgedK, standsOut } from '../../../grade/gradings/standsOut.js'
import { isSameMark } from '../../../walk/read/sameMark.js'
import type { StillEntry } from '../../../walk/schemas/resultsSchema.js'
import type { StillView, WalkView } from '../../api.js'

/** The grades promised at a still's mark, in its light, on its reference. */
export function promisedHere(walk: WalkView, still: StillView, reference: string): readonly Grade[] {
  const { mark, light } = still
  if (mark === null) return []
  return walk.promises
    .filter(
      (promise) =>
        promise.kind === undefined &&
        promise.light === light &&
        isSameMark(promise.distanceM, mark.distanceM) &&
        (promise.reference === undefined || promise.reference === reference),
    )
    .flatMap(({ grade }) => walk.grading.grades.find(({ id }) => id === grade) ?? [])
}

/** What a measured still makes of a grade, judged as the walk is: what shows no contrast, or too little of it, does not reach it. */
export function verdictMeasured(entry: StillEntry, grade: Grade, walk: WalkView): Verdict {
  if (isWashedOut(entry)) return 'not met'
  const stands = standsOut(judgedK(entry)[grade.id], walk.grading)
  if (stands === 'not met') return 'not met'
  const density = walk.judge === 'pixels' ? entry.density : entry.effectiveDensity
  if (density === null) return 'not shown'
  // Of an upper bound no low end is known.
  const verdict = decide({ low: density.low ?? 0, high: density.high }, grade.limit)
  return verdict === 'met' && stands === 'not shown' ? 'not shown' : verdict
}
