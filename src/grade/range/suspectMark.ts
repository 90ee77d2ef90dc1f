import { normalQuantile } from '../../math/quantiles.js'
import { commonLoads } from '../marks/commonDraws.js'
import { fitConstant, pointVariance } from './fitConstant.js'
import { propagateFit } from './propagateFit.js'
import type { FittedMark, SuspectMark } from './rangeFit.js'

/** Chance, over all marks of a walk together, that a good one is called suspect. */
const FALSE_SUSPICION = 0.01

/**
 * The mark that fits none of the others, or null: each is held against the fit of the rest, two-sided at 1 % shared out over the marks, the draws
 * common to the walk counted with their signs. Where several fail, the one whose removal makes the rest agree best is named: a wrong mark pulls
 * the fit the others are held against. Needs more than three marks.
 */
export function findSuspect(marks: readonly FittedMark[]): SuspectMark | null {
  const allowed = normalQuantile(1 - FALSE_SUSPICION / (2 * marks.length))
  let found: (SuspectMark & { chi2: number }) | null = null
  for (const each of marks) {
    const { deviation, fitsM, chi2 } = againstTheRest(
      each,
      marks.filter((other) => other !== each),
    )
    if (!(deviation > allowed)) continue
    if (found === null || chi2 < found.chi2) found = { mark: each.mark, fitsM, chi2 }
  }
  return found === null ? null : { mark: found.mark, fitsM: found.fitsM }
}

function againstTheRest(
  { mark, used, point }: FittedMark,
  rest: readonly FittedMark[],
): { deviation: number; fitsM: number; chi2: number } {
  const constant = fitConstant(rest.map((other) => other.point))
  const path = point.distanceM + constant.offsetM
  const zeros = rest.map(() => 0)
  const line = propagateFit(rest, constant, null, {
    perLogConstant: 1,
    perOffset: -1 / path,
    ofUsed: zeros,
    ofOther: zeros,
    ofTape: zeros,
  })
  const loads = commonLoads(mark.axes[used]!, used)
  const commonVariance = line.common.reduce((sum, draw, i) => sum + (draw - loads[i]!) ** 2, 0)
  const variance =
    line.ownVariance.reduce((sum, each) => sum + each, 0) +
    line.tapeVariance +
    line.priorVariance +
    commonVariance +
    pointVariance(point, constant.offsetM)
  const residual = Math.log(point.densityPxPerM * path) - constant.logConstant
  const fitsM = Math.exp(constant.logConstant) / point.densityPxPerM - constant.offsetM
  return { deviation: Math.abs(residual) / Math.sqrt(variance), fitsM, chi2: constant.chi2 }
}
