import type { LensResult } from './judgement.js'
import { lensResult } from './lensResult.js'
import { type MeasuredSeries, seriesInOrder } from './range/seriesInOrder.js'

/** The lens as each series with enough marks measured it: the judging's first step by itself, for what must know the lens before the walk is judged. */
export function measuredLenses(walk: MeasuredSeries): LensResult[] {
  return seriesInOrder(walk).flatMap((series) => lensResult(series, null) ?? [])
}
