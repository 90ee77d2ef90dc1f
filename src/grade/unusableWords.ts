import { gradeStill } from './gradeStill.js'
import type { Grading } from './grading.js'
import type { MarkMeasurement } from './markMeasurement.js'

/** Why nothing can be made out at a mark, in the words of the first of its stills that tells. */
export function unusableWords(mark: MarkMeasurement, grading: Grading): string {
  const told = mark.stills
    .flatMap(({ measurement }) => [
      ...measurement.problems,
      ...gradeStill(measurement, grading, 'pixels').problems,
    ])
    .find(({ code }) => code === 'washed-out' || code === 'too-noisy')
  return told?.message ?? 'too noisy: a stroke of that size does not stand out'
}
