import { DEFAULT_FULL_DETAIL_AT, type Grading, elementM } from '../grade/gradings/grading.js'
import type { ToneElement } from '../measure/toneElement.js'

/** What a still must be measured for, so that it can be graded by a grading: its elements and the detail that counts as full. */
export function gradingNeeds(grading: Grading): {
  readonly elements: readonly ToneElement[]
  readonly fullDetailAt: number
} {
  return {
    elements: grading.grades.map((grade) => ({ gradeId: grade.id, elementM: elementM(grade) })),
    fullDetailAt: grading.fullDetailAt ?? DEFAULT_FULL_DETAIL_AT,
  }
}
