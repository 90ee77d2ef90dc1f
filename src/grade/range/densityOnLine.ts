import { expandedOfLine } from './expandedOfLine.js'
import { centredDensity } from '../marks/commonDraws.js'
import { AXES, type Axis, type MarkMeasurement } from '../marks/markMeasurement.js'
import { propagateFit } from './propagateFit.js'
import type { FittedMark, RangeFit } from './rangeFit.js'

/** Logarithm of a density in px/m and its expanded relative uncertainty, 95 %. */
export interface LogDensity {
  readonly logDensity: number
  readonly U: number
}

/**
 * Density along one axis at a line of sight of `distanceM`, for a reference held as it was at the marks around: F / (d + a) times the
 * axis' share there. The share is 1 where a mark was fitted with that axis; else the ratio to the fitted axis of the same still
 * (a tape error cancels in it), or to the fit where the fitted axis is the worse known of the two. Between marks the share's logarithm
 * runs straight, beyond them it is held. Where the lens is known, the fit is of the middle of the picture and what the place in the frame makes of it
 * belongs to the share. Without an axis it is that of a reference square to the ray: a share of 1 throughout, but for that place.
 */
export function densityOnLine(fit: RangeFit, axis: Axis | null, distanceM: number): LogDensity {
  const { marks, constant } = fit
  const path = distanceM + constant.offsetM
  let logDensity = constant.logConstant - Math.log(path)
  let perLogConstant = 1
  let perOffset = -1 / path
  const ofUsed = marks.map(() => 0)
  const ofOther = marks.map(() => 0)
  const ofTape = marks.map(() => 0)
  const ofGain = marks.map(() => 0)

  for (const [i, weight] of marksAround(marks, distanceM)) {
    const { mark, used, usedIsBetterKnown, point } = marks[i]!
    const own = axis === null ? null : mark.axes[axis]
    logDensity += weight * Math.log(own === null ? leastGain(mark) : (own.lens?.gain ?? 1))
    ofGain[i] = weight
    if (own === null || axis === used) continue
    ofOther[i] = weight
    const ownDensity = centredDensity(own)
    if (usedIsBetterKnown) {
      logDensity += weight * Math.log(ownDensity / point.densityPxPerM)
      ofUsed[i] = -weight
    } else {
      const pathThere = point.distanceM + constant.offsetM
      logDensity += weight * (Math.log(ownDensity * pathThere) - constant.logConstant)
      perLogConstant -= weight
      perOffset += weight / pathThere
      ofTape[i] = weight
    }
  }
  const line = { perLogConstant, perOffset, ofUsed, ofOther, ofTape, ofGain }
  return { logDensity, U: expandedOfLine(fit, propagateFit(marks, constant, axis, line)) }
}

/** What the place in the frame leaves of a density in its worse direction. */
function leastGain({ axes }: MarkMeasurement): number {
  const gains = AXES.flatMap((axis) => axes[axis]?.lens?.gain ?? [])
  return gains.length === 0 ? 1 : Math.min(...gains)
}

/** The marks around a distance and how much each counts there; the nearest alone beyond the ends. */
function marksAround(marks: readonly FittedMark[], distanceM: number): [index: number, weight: number][] {
  const next = marks.findIndex(({ point }) => point.distanceM >= distanceM)
  if (next === 0) return [[0, 1]]
  if (next === -1) return [[marks.length - 1, 1]]
  const before = marks[next - 1]!.point.distanceM
  const weight = (distanceM - before) / (marks[next]!.point.distanceM - before)
  return [
    [next - 1, 1 - weight],
    [next, weight],
  ]
}
