import type { Interval } from '../../math/interval.js'
import { decide } from './decide.js'
import type { Grade, Grading } from './grading.js'

/** The id of a still that was judged and reaches no limit. */
export const NO_GRADE = 'none'

/**
 * The highest grade whose limit the density's low end reaches (px/m, 95 %), or `none`. A grade for which `reached`
 * says no is passed over.
 */
export function gradeFromDensity(
  density: Interval,
  grading: Grading,
  reached: (grade: Grade) => boolean = () => true,
): string {
  const held = grading.grades.filter((grade) => decide(density, grade.limit) === 'met' && reached(grade))
  return held.at(-1)?.id ?? NO_GRADE
}
