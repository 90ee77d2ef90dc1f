import type { Interval } from '../../math/interval.js'
import { type Axis, AXES } from '../marks/markMeasurement.js'
import { densityOnLine } from './densityOnLine.js'
import type { RangeFit } from './rangeFit.js'

/** A share of the density that counts (pixels with detail), with its expanded uncertainty, 95 %. */
export interface Share {
  readonly value: number
  readonly U: number
}
const EVERY_PIXEL: Share = { value: 1, U: 0 }

/** Density on target at a distance, px/m, and the distances a limit holds to, metres; all line of sight. */
export interface RangeOnLine extends Interval {
  readonly value: number
  /** Near end of the stretch the grade is shown on, where it is not shown nearer by; else null. */
  readonly from: number | null
}

/** Density on target at a line of sight: the smaller of the axes, its ends the smaller of theirs (as of one still). */
export function onTargetOnLine(
  fit: RangeFit,
  distanceM: number,
  share: Share = EVERY_PIXEL,
): { value: number; low: number; high: number } {
  const ends = measuredAxes(fit).map((axis) => {
    const { logDensity, U } = densityOnLine(fit, axis, distanceM)
    const joint = Math.hypot(U, share.U / share.value)
    return [logDensity - joint, logDensity, logDensity + joint] as const
  })
  const smallest = (end: 0 | 1 | 2): number =>
    share.value * Math.exp(Math.min(...ends.map((each) => each[end])))
  return { value: smallest(1), low: smallest(0), high: smallest(2) }
}

/**
 * How far out a limit (px/m) holds: the farthest distance at which the density on target, its low and its high end reach it (Fieller's
 * way: the interval is every distance at which the limit lies within the density's interval). Null where even the near end does not reach it.
 */
export function rangeOnLine(fit: RangeFit, limit: number, share: Share = EVERY_PIXEL): RangeOnLine | null {
  const reach = (end: 'value' | 'low' | 'high') => (distanceM: number) =>
    onTargetOnLine(fit, distanceM, share)[end] - limit
  const distances = stops(fit, limit)
  const value = farthest(reach('value'), distances)
  const low = farthest(reach('low'), distances)
  const high = farthest(reach('high'), distances)
  if (value === null || low === null || high === null) return null
  return { value, low, high, from: nearEnd(reach('low'), fit, low) }
}

function measuredAxes(fit: RangeFit): readonly Axis[] {
  return AXES.filter((axis) => fit.marks[0]!.mark.axes[axis] !== null)
}

// Density falls with distance before the first mark and beyond the last; between two marks it is searched as if it crossed once.
function stops(fit: RangeFit, limit: number): number[] {
  const marks = fit.marks.map(({ point }) => point.distanceM)
  const reachM = Math.exp(fit.constant.logConstant) / limit
  const nearM = Math.max(0, -fit.constant.offsetM) + 0.01 * Math.min(marks[0]!, reachM)
  return [nearM, ...marks, 10 * Math.max(marks.at(-1)!, reachM)]
}

function farthest(reach: (distanceM: number) => number, distances: readonly number[]): number | null {
  const last = distances.findLastIndex((distanceM) => reach(distanceM) >= 0)
  if (last === -1) return null
  const beyond = distances[last + 1]
  return beyond === undefined ? distances[last]! : crossing(reach, distances[last]!, beyond)
}

function nearEnd(reach: (distanceM: number) => number, fit: RangeFit, endM: number): number | null {
  const marks = fit.marks.map(({ point }) => point.distanceM).filter((distanceM) => distanceM < endM)
  const failing = marks.findLastIndex((distanceM) => reach(distanceM) < 0)
  if (failing === -1) return null
  return crossing(reach, marks[failing + 1] ?? endM, marks[failing]!)
}

/** The distance where `reach` changes sign, between one that reaches and one that does not, to a tenth of a micrometre. */
function crossing(reach: (distanceM: number) => number, reaching: number, failing: number): number {
  let [yes, no] = [reaching, failing]
  while (Math.abs(no - yes) > 1e-7) {
    const middle = (yes + no) / 2
    if (reach(middle) >= 0) yes = middle
    else no = middle
  }
  return yes
}
