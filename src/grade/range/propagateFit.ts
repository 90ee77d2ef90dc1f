import { COMMON_DRAWS, commonLoads, gainLoads } from '../marks/commonDraws.js'
import { OFFSET_PRIOR_M, type FittedConstant } from './fitConstant.js'
import type { Axis } from '../marks/markMeasurement.js'
import type { FittedMark } from './rangeFit.js'

/** How a logarithm computed from a fit answers to the fitted constant and, past it, to the marks themselves. */
export interface LineSensitivity {
  readonly perLogConstant: number
  readonly perOffset: number
  /** Per mark, to the relative noise of the density it was fitted with, of its other axis, and of its tape. */
  readonly ofUsed: readonly number[]
  readonly ofOther: readonly number[]
  readonly ofTape: readonly number[]
  /** To what the place in the frame makes of the density along the axis asked for. */
  readonly ofGain?: readonly number[]
}

/** What the independent draws make of it: variances, and the signed sum over each draw common to the walk. */
export interface PropagatedLine {
  /** Of the marks' own noise, per mark. */
  readonly ownVariance: readonly number[]
  /** Of tapes and of the model's freedom. */
  readonly tapeVariance: number
  readonly priorVariance: number
  readonly common: readonly number[]
}

/**
 * Propagates every independent draw once, to first order (JCGM 100:2008, 5.1.2), and the common ones with their signs (F.1.2): the fit is
 * linear in its data, so a common draw refitted is the same as its loads summed through the fit's sensitivities.
 */
export function propagateFit(
  marks: readonly FittedMark[],
  constant: FittedConstant,
  otherAxis: Axis | null,
  line: LineSensitivity,
): PropagatedLine {
  const common = new Array<number>(COMMON_DRAWS).fill(0)
  let tapeVariance = 0
  const ownVariance = marks.map(({ mark, used, point }, i) => {
    const throughFit =
      line.perLogConstant * constant.logConstantOf.ofPoints[i]! +
      line.perOffset * constant.offsetOf.ofPoints[i]!
    const ofUsed = throughFit + line.ofUsed[i]!
    const tapeRel = Math.hypot(point.tapeM / (point.distanceM + constant.offsetM), point.modelRel)
    tapeVariance += ((throughFit + line.ofTape[i]!) * tapeRel) ** 2
    addLoads(common, commonLoads(mark.axes[used]!, used), ofUsed)
    const other = otherAxis === null ? null : mark.axes[otherAxis]
    if (other !== null) addLoads(common, gainLoads(other), line.ofGain?.[i] ?? 0)
    const ofOther = line.ofOther[i]!
    if (other === null || otherAxis === null || ofOther === 0) return (ofUsed * point.ownRel) ** 2
    addLoads(common, commonLoads(other, otherAxis), ofOther)
    return (ofUsed * point.ownRel) ** 2 + (ofOther * other.cornersRel) ** 2
  })
  const ofPrior =
    line.perLogConstant * constant.logConstantOf.ofPrior + line.perOffset * constant.offsetOf.ofPrior
  return { ownVariance, tapeVariance, priorVariance: (ofPrior * OFFSET_PRIOR_M) ** 2, common }
}

function addLoads(common: number[], loads: readonly number[], by: number): void {
  for (const [draw, load] of loads.entries()) common[draw]! += by * load
}
