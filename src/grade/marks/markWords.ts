import { gradeStill, tellsUnusable } from '../gradings/gradeStill.js'
import type { Grading } from '../gradings/grading.js'
import type { Figures } from '../../units/figures.js'
import { gradeSays } from '../sentences.js'
import type { MarkMeasurement } from './markMeasurement.js'

/** Why nothing can be made out at a mark, in the words of the first of its stills that tells. */
export function unusableWords(mark: MarkMeasurement, grading: Grading): string {
  const told = mark.stills
    .flatMap(({ measurement }) => [
      ...measurement.problems,
      ...gradeStill(measurement, grading, 'pixels', mark.light).problems,
    ])
    .find(tellsUnusable)
  return (told ?? gradeSays['nothing-stands-out']()).message
}

/** Why a chart's sharpness is not told, beside the codes that begin with "detail-". */
const NO_CHART_DETAIL = ['chart-too-noisy', 'chart-washed-out', 'chart-ink-clipped', 'chart-sharpened']

/** Why a mark has no density with detail, in the words of the still that said so. */
export function noDetailWords(mark: MarkMeasurement): string {
  const told = mark.stills
    .flatMap(({ measurement }) => measurement.problems)
    .find(({ code }) => code.startsWith('detail-') || NO_CHART_DETAIL.includes(code))
  return gradeSays['no-detail'](told?.message).message
}

/** Where another reference tells the detail that a mark has none of, to go on behind that; nothing where none does. */
export function elsewhereWords({ detailElsewhere }: MarkMeasurement, figures: Figures): string {
  if (detailElsewhere === null) return ''
  const { reference, nearM, farM, isNearerMiddle } = detailElsewhere
  const [near, far] = [figures.distance(nearM), figures.distance(farM)]
  return `; ${gradeSays['detail-elsewhere'](reference, near, far, isNearerMiddle).message}`
}

// A reference turned this far loses 3 % of its width or height, which alone can make it fit another distance. This project's convention.
const MUCH_TURNED_DEG = 15

/** How a mark was held that fits none of the others, where that may be why; else nothing. */
export function suspectTurn(mark: MarkMeasurement): string {
  return mark.turnDeg !== null && mark.turnDeg >= MUCH_TURNED_DEG ? `, held ${turnWords(mark)}` : ''
}

/** How far a mark's reference was held turned: "turned 28 degrees". */
export function turnWords({ turnDeg }: MarkMeasurement): string {
  return `turned ${Math.round(turnDeg ?? 0)} degrees`
}
