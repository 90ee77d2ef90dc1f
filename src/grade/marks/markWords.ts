import { gradeStill, tellsUnusable } from '../gradings/gradeStill.js'
import type { Grading } from '../gradings/grading.js'
import type { MarkMeasurement } from './markMeasurement.js'

/** Why nothing can be made out at a mark, in the words of the first of its stills that tells. */
export function unusableWords(mark: MarkMeasurement, grading: Grading): string {
  const told = mark.stills
    .flatMap(({ measurement }) => [
      ...measurement.problems,
      ...gradeStill(measurement, grading, 'pixels').problems,
    ])
    .find(tellsUnusable)
  return told?.message ?? 'too noisy: a stroke of that size does not stand out'
}

/** Why a chart's sharpness is not told, beside the codes that begin with "detail-". */
const NO_CHART_DETAIL = ['chart-too-noisy', 'chart-washed-out', 'chart-ink-clipped', 'chart-sharpened']

/** Why a mark has no density with detail, in the words of the still that said so. */
export function noDetailWords(mark: MarkMeasurement): string {
  const told = mark.stills
    .flatMap(({ measurement }) => measurement.problems)
    .find(({ code }) => code.startsWith('detail-') || NO_CHART_DETAIL.includes(code))
  return told === undefined
    ? 'detail could not be measured'
    : `detail could not be measured (${told.message})`
}

/** What to carry where detail could not be measured. */
export function detailMend(mark: MarkMeasurement): string {
  const isChart = mark.stills.some(({ measurement }) => measurement.method === 'chart')
  return isChart ? 'carry a larger chart, or judge by pixels' : 'carry a board, or judge by pixels'
}

// A reference turned this far loses 3 % of its width or height, which alone can make it fit another distance. This project's convention.
const MUCH_TURNED_DEG = 15

/** What to look into where a mark fits none of the others. */
export function suspectMend(mark: MarkMeasurement): string {
  const turned = mark.turnDeg !== null && mark.turnDeg >= MUCH_TURNED_DEG
  const how = turned ? `, held turned ${Math.round(mark.turnDeg)} degrees` : ''
  return `check the tape and the still${how}`
}
