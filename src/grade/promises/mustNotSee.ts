import type { Said } from '../../sentences.js'
import { greatestShare } from '../../lens/greatestShare.js'
import type { Estimate } from '../../math/interval.js'
import { roundNumbers } from '../../units/roundNumbers.js'
import type { Figures } from '../../units/figures.js'
import type { Grade } from '../gradings/grading.js'
import type { Verdict } from '../judgement.js'
import { markReachM } from '../marks/markMeasurement.js'
import { amongFactor, constantOf } from '../range/densityAt.js'
import { keptMarks, type Series, sightM } from '../range/series.js'
import { gradeSays } from '../sentences.js'
import type { PromiseAnswer } from './answerPromise.js'
import { power } from '../../math/power.js'

/**
 * Judges in one series that a grade is not reached at a distance, metres as taped, anywhere in the picture: by pixels alone. The figure is F/D times the greatest
 * pixels per radian anywhere in the picture over those in its middle. It is met where its upper end is below the limit and a still stands there or nearer, usable or
 * not, for density only falls with distance; not met where its lower end reaches the limit. `projection`: p of the walk's lens, null where it is not known: then p
 * may be all up to 1, straight lines straight, and only the upper end and the value are raised.
 */
export function answerMustNotSee(
  distanceM: number,
  grade: Grade,
  series: Series,
  projection: Estimate | null,
  figures: Figures,
): PromiseAnswer {
  const { fit, marks } = series
  const nothing = { byPixels: 'not shown', density: null, onOtherBasis: null } as const
  if (fit === null)
    return { verdict: 'not shown', ...nothing, why: gradeSays['no-mark-holds']().message, mend: null }
  const F = constantOf(fit)
  const cornerPx = Math.max(
    ...marks.flatMap(({ stills }) =>
      stills.map(({ measurement: { width, height } }) => Math.hypot(width, height) / 2),
    ),
  )
  const sight = sightM(series, distanceM)
  const there = (perRadian: number, p: number): number =>
    (perRadian * greatestShare(p, cornerPx / perRadian)) / sight
  const p = projection ?? { value: 1, low: 1, high: 1 }
  // A longer lens sees more in the middle and less of it in the corner.
  const value = there(F.value, p.value)
  const fartherOut = (end: number, times: number): number => F.value * power(end / F.value, times)
  const ends = (times: number): number[] =>
    [F.low, F.high].flatMap((end) => [p.low, p.high].map((each) => there(fartherOut(end, times), each)))
  // Any one reference of the light may show it reached.
  const among = amongFactor(fit)
  const density = {
    value,
    low: projection === null ? fartherOut(F.low, among) / sight : Math.min(value, ...ends(among)),
    high: Math.max(value, ...ends(1)),
  }
  const reaches = density.low >= grade.limit
  const isBelow = density.high < grade.limit
  // A mark whose tape is wrong stands nobody knows where.
  const isShown = keptMarks(series).some(
    (mark) => mark.distanceM <= distanceM + markReachM(mark.distanceM, fit.toleranceM),
  )
  const verdict: Verdict = reaches ? 'not met' : isBelow && isShown ? 'met' : 'not shown'
  const limit = figures.isMetric ? figures.bareLimit(grade.limit) : figures.limit(grade.limit)
  const counted = `${figures.interval(roundNumbers(density))} ${figures.densityUnit}`
  const said: Said =
    isBelow && !isShown
      ? gradeSays['no-still-so-near'](figures.distance(distanceM))
      : gradeSays['most-anywhere'](counted, limit, projection !== null, verdict)
  return {
    verdict,
    byPixels: verdict,
    density,
    onOtherBasis: null,
    why: said.message,
    mend: said.mend ?? null,
  }
}
