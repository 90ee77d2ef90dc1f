import type { Problem, StillMeasurement } from '../measure/stillMeasurement.js'
import { gradeMeasured } from './gradeMeasured.js'
import type { Grading } from './grading.js'
import type { Basis, StillGrades } from './judgement.js'
import { leastRoseK, standsOut } from './standsOut.js'

/** The code under which a surface without two levels is told, by the measuring of tone and here. */
export const WASHED_OUT = 'washed-out'
export const TOO_NOISY = 'too-noisy'

// Above this share of white, or under this Michelson contrast, lost contrast is put down to the levels and not to the
// noise. It only chooses the words. This project's convention.
const MUCH_AT_WHITE = 0.5
const LITTLE_CONTRAST = 0.1

/**
 * Grades one still, and tells in the reader's words where nothing on it stands out. `grade` is null where it cannot be
 * judged (no effective density under `judge: detail`), `none` where judged and no limit is reached.
 */
export function gradeStill(
  measurement: StillMeasurement,
  grading: Grading,
  judge: Basis,
): StillGrades & { readonly problems: readonly Problem[] } {
  const { density, effectiveDensity, tone } = measurement
  const grades = gradeMeasured(
    {
      onTarget: density,
      effectiveDensity,
      roseK: tone?.roseK ?? {},
      washedOut: isWashedOut(measurement),
    },
    grading,
    judge,
  )
  return { ...grades, problems: unusableProblems(measurement, grading) }
}

/** Whether the measuring of tone said that the surface shows no two levels. */
export function isWashedOut(measurement: StillMeasurement): boolean {
  return measurement.problems.some(({ code }) => code === WASHED_OUT)
}

function unusableProblems({ tone }: StillMeasurement, grading: Grading): Problem[] {
  if (tone === null) return []
  const told = grading.grades.flatMap(({ id }) => {
    const rose = tone.roseK[id]
    return rose === null || rose === undefined ? [] : [rose]
  })
  if (told.length === 0 || !told.every((rose) => standsOut(rose, grading) === 'not met')) return []
  const best = Math.max(...told.map(({ k }) => k))
  if (tone.clippedBright >= MUCH_AT_WHITE || tone.michelson < LITTLE_CONTRAST) {
    const message = `washed out: ${percent(tone.clippedBright)} of it is at white, contrast ${percent(tone.michelson)}`
    return [{ code: WASHED_OUT, message }]
  }
  const message = `too noisy: a stroke stands out ${best.toFixed(1)} times, ${leastRoseK(grading)} is needed`
  return [{ code: TOO_NOISY, message }]
}

function percent(share: number): string {
  return `${Math.round(100 * share)} %`
}
