import type { LensResult } from './judgement.js'
import { type MeasuredSeries, seriesInOrder } from './range/seriesInOrder.js'
import { expandedOfLine } from './range/expandedOfLine.js'
import { propagateFit } from './range/propagateFit.js'
import { type Series, tapedM } from './range/series.js'

/** The lens as one series measured it: px per radian with its 95 % interval, the offset, the mark that fits none of the others. Null without a fit. */
export function lensResult(series: Series, promised: LensResult['promised']): LensResult | null {
  const { fit } = series
  if (fit === null) return null
  const zeros = fit.marks.map(() => 0)
  const line = { perLogConstant: 1, perOffset: 0, ofUsed: zeros, ofOther: zeros, ofTape: zeros }
  const U = expandedOfLine(fit, propagateFit(fit.marks, fit.constant, null, line))
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
