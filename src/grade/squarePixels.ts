import { problem } from '../sentences.js'
import { printedEstimate } from '../units/printedEstimate.js'
import { gradeSays } from './sentences.js'
import { centredDensity, COMMON_DRAWS, commonLoads } from './marks/commonDraws.js'
import type { WalkFinding } from './judgement.js'
import { keptMarks, type Series } from './range/series.js'

// A smaller constant difference may be a walker's habit: a board held 14 degrees off each time loses 3 %. This project's convention.
const TOLD_FROM = 0.03
const LEAST_MARKS = 3

interface Row {
  readonly logRatio: number
  readonly variance: number
  readonly loads: readonly number[]
}

/**
 * Tells where across and upright density differ by the same share at every mark, the farther half of them by itself included: then the pixels are not
 * square (a second stream, an anamorphic correction), or the reference's sides were entered wrongly. A share that changes with distance is how the
 * reference was held, or a camera that looks down on near marks, and not told here. Null under three marks.
 */
export function squarePixels(series: Series): WalkFinding | null {
  const rows = keptMarks(series).flatMap(({ axes: { horizontal, vertical } }): Row[] => {
    if (horizontal === null || vertical === null) return []
    const across = commonLoads(horizontal, 'horizontal')
    const upright = commonLoads(vertical, 'vertical')
    return [
      {
        logRatio: Math.log(centredDensity(horizontal) / centredDensity(vertical)),
        variance: horizontal.cornersRel ** 2 + vertical.cornersRel ** 2,
        loads: across.map((load, draw) => load - upright[draw]!),
      },
    ]
  })
  if (rows.length < LEAST_MARKS) return null
  const { logRatio, U } = meanRatio(rows)
  const far = meanRatio(rows.slice(Math.floor(rows.length / 2)))
  // Constant: no mark further from the mean than its own expanded uncertainty and the convention allow together.
  const constant = rows.every(
    (row) => Math.abs(row.logRatio - logRatio) <= 2 * Math.sqrt(row.variance) + TOLD_FROM / 2,
  )
  const differs = (ratio: { readonly logRatio: number; readonly U: number }): boolean =>
    Math.sign(ratio.logRatio) === Math.sign(logRatio) &&
    Math.abs(ratio.logRatio) >= Math.max(ratio.U, TOLD_FROM)
  if (!constant || !differs({ logRatio, U }) || !differs(far)) return null
  const percent = (log: number): number => 100 * Math.sign(logRatio) * Math.expm1(log)
  const ends = [percent(logRatio - U), percent(logRatio + U)]
  const share = { value: percent(logRatio), low: Math.min(...ends), high: Math.max(...ends) }
  const more = `${printedEstimate(share).value} % ${logRatio > 0 ? 'more' : 'less'}`
  return problem(gradeSays['pixels-not-square'](`${series.light}, ${series.reference}`, more))
}

/** Weighted mean of the rows' log ratio with its expanded uncertainty, common draws included. */
function meanRatio(rows: readonly Row[]): { readonly logRatio: number; readonly U: number } {
  const weights = rows.map(({ variance }) => 1 / variance)
  const total = weights.reduce((sum, weight) => sum + weight, 0)
  const mean = (values: readonly number[]): number =>
    values.reduce((sum, value, i) => sum + weights[i]! * value, 0) / total
  const common = Array.from({ length: COMMON_DRAWS }, (_, draw) =>
    mean(rows.map(({ loads }) => loads[draw]!)),
  )
  return {
    logRatio: mean(rows.map((row) => row.logRatio)),
    U: 2 * Math.hypot(1 / Math.sqrt(total), ...common),
  }
}
