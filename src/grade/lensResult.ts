import type { LensResult } from './judgement.js'
import { type MeasuredSeries, seriesInOrder } from './court/seriesInOrder.js'
import { constantOf } from './range/densityAt.js'
import { LEAST_MARKS } from './range/fitRange.js'
import { type Series, tapedM } from './range/series.js'

/** The lens as one series measured it: px per radian with its 95 % interval, the offset, the mark that fits none of the others. Null under three marks. */
export function lensResult(series: Series, promised: LensResult['promised']): LensResult | null {
  const { fit } = series
  if (fit === null || fit.marks.length < LEAST_MARKS) return null
  return {
    light: series.light,
    reference: series.reference,
    pixelsPerRadian: constantOf(fit),
    offsetM: fit.constant.offsetM,
    suspect:
      fit.suspect === null
        ? null
        : { distance: fit.suspect.mark.distanceM, fits: tapedM(series, fit.suspect.fitsM.value) },
    promised,
  }
}

/** The lens as each series with enough marks measured it: the judging's first step by itself, for what must know the lens before the walk is judged. */
export function measuredLenses(walk: MeasuredSeries): LensResult[] {
  return seriesInOrder(walk).series.flatMap((series) => lensResult(series, null) ?? [])
}
