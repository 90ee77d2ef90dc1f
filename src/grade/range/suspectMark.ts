import { normalQuantile } from '../../math/quantiles.js'
import { dot, fitConstant, pointVariance, rowOf } from './fitConstant.js'
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
  { point }: FittedMark,
  rest: readonly FittedMark[],
): { deviation: number; fitsM: number; chi2: number } {
  const constant = fitConstant(rest.map((other) => other.point))
  const { logConstant, offsetM, draws, covariance, chi2 } = constant
  const row = rowOf(point, offsetM)
  const variance =
    dot(
      row,
      covariance.map((each) => dot(each, row)),
    ) + pointVariance(point, offsetM)
  const logDensity = Math.log(point.densityPxPerM) - dot(point.loads, draws)
  const residual = logDensity + Math.log(point.distanceM + offsetM) - logConstant
  const fitsM = Math.exp(logConstant - logDensity) - offsetM
  return { deviation: Math.abs(residual) / Math.sqrt(variance), fitsM, chi2 }
}
