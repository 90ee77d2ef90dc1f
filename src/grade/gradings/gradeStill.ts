import type { Problem, StillMeasurement } from '../../measure/stillMeasurement.js'
import { problem } from '../../sentences.js'
import { printedValue } from '../../units/printedEstimate.js'
import { gradeSays } from '../sentences.js'
import { detailBound } from './detailBound.js'
import { gradeMeasured } from './gradeMeasured.js'
import type { Grading } from './grading.js'
import type { Basis, StillGrades } from '../judgement.js'
import { judgedK, leastRoseK, standsOut } from './standsOut.js'

// Codes under which the measuring of tone tells that nothing stands out on a surface: at white, without two levels, or in noise.
const WASHED_OUT = 'washed-out'
const TOO_NOISY = 'too-noisy'
const NO_TWO_LEVELS = 'no-two-levels'

// Above this share of white, or under this Michelson contrast, lost contrast is put down to the levels and not to the
// noise. It only chooses the words. This project's convention.
const MUCH_AT_WHITE = 0.5
const LITTLE_CONTRAST = 0.1

/**
 * Grades one still, and tells in the reader's words where nothing on it stands out. `grade` is null where it cannot be
 * judged (no effective density, or an upper bound of it, under `judge: detail`), `none` where judged and no limit is reached.
 */
export function gradeStill(
  measurement: StillMeasurement,
  grading: Grading,
  judge: Basis,
  light: string | null,
): StillGrades & { readonly problems: readonly Problem[] } {
  const { density, effectiveDensity } = measurement
  const grades = gradeMeasured(
    {
      onTarget: density,
      effectiveDensity,
      roseK: judgedK(measurement),
      isBound: detailBound(measurement, light) !== null,
      washedOut: isWashedOut(measurement),
    },
    grading,
    judge,
  )
  return { ...grades, problems: unusableProblems(measurement, grading) }
}

/** Whether the measuring of tone said that the surface shows no two levels: then there is no k, and it is shown unusable all the same. */
export function isWashedOut({ problems }: { readonly problems: readonly Problem[] }): boolean {
  return problems.some(({ code }) => code === WASHED_OUT || code === NO_TWO_LEVELS)
}

/** Whether a problem says why nothing stands out. */
export function tellsUnusable({ code }: Problem): boolean {
  return code === WASHED_OUT || code === NO_TWO_LEVELS || code === TOO_NOISY
}

// The measuring of tone tells it already where it knows the elements; the least k is the grading's, so it may tell less.
function unusableProblems(measurement: StillMeasurement, grading: Grading): Problem[] {
  const { tone, problems, strip } = measurement
  if (problems.some(tellsUnusable)) return []
  const roseK = judgedK(measurement)
  const told = grading.grades.flatMap(({ id }) => {
    const rose = roseK[id]
    return rose === null || rose === undefined ? [] : [rose]
  })
  if (told.length === 0 || !told.every((rose) => standsOut(rose, grading) === 'not met')) return []
  const best = Math.max(...told.map(({ k }) => k))
  if (!strip && tone !== null && (tone.clippedBright >= MUCH_AT_WHITE || tone.michelson < LITTLE_CONTRAST)) {
    return [problem(gradeSays[WASHED_OUT](percent(tone.clippedBright), percent(tone.michelson)))]
  }
  const least = told[0]?.least ?? leastRoseK(grading)
  return [problem(gradeSays[TOO_NOISY](printedValue(best, 1, [least]), least))]
}

function percent(share: number): string {
  return `${Math.round(100 * share)} %`
}
