import type { Estimate } from '../../math/interval.js'
import { densityAt, type Share } from './densityAt.js'
import type { RangeFit } from './rangeFit.js'

/** The distances a limit holds to, metres, line of sight. */
export interface RangeOnLine extends Estimate {
  /** Near end of the stretch the grade is shown on, where it is not shown nearer by (known lens, a mark at the picture's edge); else null. */
  readonly from: number | null
}

/**
 * How far out a limit (px/m) holds: the farthest distance at which the density there, its low and its high end reach it (Fieller's way: the interval is every
 * distance at which the limit lies within the density's interval). The same function answers a promise, so the two cannot disagree.
 */
export function rangeOnLine(fit: RangeFit, limit: number, share: Share | null = null): RangeOnLine {
  const marks = fit.marks.map(({ point }) => point.distanceM)
  const farthest = (end: keyof Estimate): number => {
    const falls = (distanceM: number): number => densityAt(fit, distanceM, share)[end] - limit
    const last = marks.findLastIndex((distanceM) => falls(distanceM) >= 0)
    return crossing(falls, marks[last] ?? 0, marks[last + 1] ?? Infinity)
  }
  const low = farthest('low')
  const reaches = (distanceM: number): number => densityAt(fit, distanceM, share).low - limit
  const failing = marks.findLastIndex((distanceM) => distanceM < low && reaches(distanceM) < 0)
  const from = failing === -1 ? null : crossing(reaches, marks[failing + 1] ?? low, marks[failing]!)
  return { value: farthest('value'), low, high: farthest('high'), from }
}

/** The distance where `reach` changes sign, between one that reaches and one that does not, to a tenth of a micrometre. */
function crossing(reach: (distanceM: number) => number, reaching: number, failing: number): number {
  let [yes, no] = [reaching, failing]
  if (no === Infinity) {
    no = 2 * Math.max(yes, 1)
    while (reach(no) >= 0) no *= 2
  }
  while (Math.abs(no - yes) > 1e-7) {
    const middle = (yes + no) / 2
    if (reach(middle) >= 0) yes = middle
    else no = middle
  }
  return yes
}
