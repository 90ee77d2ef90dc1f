import type { Grading } from '../gradings/grading.js'
import { gradeNameOf } from '../gradings/grading.js'
import type { GradePromise, PromiseResult } from '../judgement.js'
import { densityThere } from '../range/densityThere.js'
import { gradeSays } from '../sentences.js'
import { markAt } from './answerPromise.js'
import type { RangedSeries } from './promises.js'
import type { PixelsThere, ReadPromise } from './readPromise.js'

/** What pixels say of a reference where text is read: their density, and where a grade is promised beside it, what became of that. `judged` judges a grade. */
export function pixelsThere(
  promise: ReadPromise,
  reference: string | null,
  all: readonly RangedSeries[],
  grading: Grading,
  judged: (promise: GradePromise) => PromiseResult,
): PixelsThere {
  const { grade, distanceM, light } = promise
  const own = all.find(({ series }) => series.light === light && series.reference === reference)?.series
  const density = own === undefined ? null : densityThere(own, distanceM, 'pixels', markAt(own, distanceM))
  if (grade === null || own === undefined)
    return { byPixels: 'not shown', onOtherBasis: density, explains: null }
  const { verdict, byPixels, basis } = judged({ grade, distanceM, light, reference: own.reference })
  const explains = gradeSays['read-explained'](
    gradeNameOf(grade, grading),
    byPixels,
    basis === 'detail' ? verdict : null,
  )
  return { byPixels, onOtherBasis: density, explains: explains.message }
}
