import type { LensResult } from './judgement.js'
import { type MeasuredSeries, seriesInOrder } from './range/seriesInOrder.js'
import { expandedOf } from './range/expandedOf.js'
import { LEAST_MARKS } from './range/fitRange.js'
import { type Series, tapedM } from './range/series.js'

/** The lens as one series measured it: px per radian with its 95 % interval, the offset, the mark that fits none of the others. Null under three marks. */
export function lensResult(series: Series, promised: LensResult['promised']): LensResult | null {
  const { fit } = series
  if (fit === null || fit.marks.length < LEAST_MARKS) return null
  const U = expandedOf(
    fit,
    fit.constant.priorWeights.map((_, k) => (k === 0 ? 1 : 0)),
  )
  const { logConstant, offsetM } = fit.constant
  return {
    light: series.light,
    reference: series.reference,
    pixelsPerRadian: {
      value: Math.exp(logConstant),
      low: Math.exp(logConstant - U),
      high: Math.exp(logConstant + U),
    },
    offsetM,
    suspect:
      fit.suspect === null
        ? null
        : { distance: fit.suspect.mark.distanceM, fits: tapedM(series, fit.suspect.fitsM) },
    promised,
  }
}

/** The lens as each series with enough marks measured it: the judging's first step by itself, for what must know the lens before the walk is judged. */
export function measuredLenses(walk: MeasuredSeries): LensResult[] {
  return seriesInOrder(walk).flatMap((series) => lensResult(series, null) ?? [])
}
