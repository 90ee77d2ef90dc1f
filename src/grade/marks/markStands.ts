import type { Verdict } from '../judgement.js'
import type { Grade, Grading } from '../gradings/grading.js'
import type { MarkMeasurement } from './markMeasurement.js'
import { standsOut } from '../gradings/standsOut.js'

/**
 * Whether a grade's element stands out at a mark. `not met` where it is shown not to: nothing has two levels there, or k + U stays under the least k
 * for this element or a coarser one. Null where nothing of it could be told, which blocks no grade; where a finer element alone was told and fails,
 * nothing is shown for this one.
 */
export function markStandsOut(mark: MarkMeasurement, grade: Grade, grading: Grading): Verdict | null {
  if (mark.washedOut) return 'not met'
  const coarser = grading.grades.filter(({ limit }) => limit < grade.limit)
  if (coarser.some(({ id }) => standsOut(mark.roseK[id], grading) === 'not met')) return 'not met'
  const own = standsOut(mark.roseK[grade.id], grading)
  if (own !== null) return own
  const told = grading.grades
    .map(({ id }) => standsOut(mark.roseK[id], grading))
    .filter((answer) => answer !== null)
  return told.length > 0 && !told.includes('met') ? 'not shown' : null
}
