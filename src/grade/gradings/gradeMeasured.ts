import type { Interval } from '../../math/interval.js'
import type { RoseK } from '../../measure/stillMeasurement.js'
import { gradeFromDensity, NO_GRADE } from './gradeFromDensity.js'
import type { Grading } from './grading.js'
import type { Basis, StillGrades } from '../judgement.js'
import { standsOut } from './standsOut.js'

/** What a still, or all the stills of a mark, give to be graded. Densities px/m, 95 %. */
export interface Gradeable {
  readonly onTarget: Interval
  readonly effectiveDensity: Interval | null
  /** Rose's k per grade id; empty where no tone could be measured. */
  readonly roseK: Readonly<Record<string, RoseK | null>>
  /** Whether the effective density is an upper bound. */
  readonly isBound: boolean
  /** The surface showed no two levels at all: shown unusable. */
  readonly washedOut: boolean
}

/**
 * Both grades: by pixels alone, as the standard's table does, and the stricter one of this project, which asks that the
 * density (with detail, or `judge: pixels`) reaches the limit and that the grade's element stands out: never the higher of the two.
 */
export function gradeMeasured(measured: Gradeable, grading: Grading, judge: Basis): StillGrades {
  const gradeByPixels = gradeFromDensity(measured.onTarget, grading)
  const told = grading.grades
    .map((grade) => standsOut(measured.roseK[grade.id], grading))
    .filter((answer) => answer !== null)
  const shown = told.includes('met') ? true : told.includes('not shown') || told.length === 0 ? null : false
  const usable = measured.washedOut ? false : shown
  const density = judge === 'pixels' ? measured.onTarget : measured.effectiveDensity
  if (density === null) return { grade: null, gradeByPixels, usable }
  if (measured.washedOut) return { grade: NO_GRADE, gradeByPixels, usable }
  if (judge === 'detail' && measured.isBound) {
    const reachesNone = grading.grades.every(({ limit }) => density.high < limit)
    return { grade: reachesNone ? NO_GRADE : null, gradeByPixels, usable }
  }
  const counted = { low: Math.min(density.low, measured.onTarget.low), high: density.high }
  const grade = gradeFromDensity(counted, grading, ({ id }) => {
    const answer = standsOut(measured.roseK[id], grading)
    return answer === null || answer === 'met'
  })
  return { grade, gradeByPixels, usable }
}
