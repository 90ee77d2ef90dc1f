import type { Pick } from '../reference/pick.js'
import { fault } from '../../sentences.js'
import { measureSays } from '../sentences.js'

/**
 * Covariance of a pick's points, px^2, in the order x1, y1, x2, y2, ... of `order`, whose entry i names the pick's point that is used as point i.
 * @throws `ProofwalkError` `bad-argument` where a covariance that was handed in has another shape, is not symmetric or has a negative or unreal variance
 */
export function pickCovariance(pick: Pick, order: readonly number[]): number[][] {
  const size = 2 * order.length
  const given = pick.covariancePx2
  if (given === undefined) {
    if (!(pick.sigmaPx >= 0 && pick.sigmaPx < Infinity)) {
      throw fault(measureSays['pick-sigma'](pick.sigmaPx))
    }
    return Array.from({ length: size }, (_, i) =>
      Array.from({ length: size }, (__, j) => (i === j ? pick.sigmaPx ** 2 : 0)),
    )
  }
  const sound =
    given.length === size &&
    given.every(
      (row, i) =>
        row.length === size &&
        row[i]! >= 0 &&
        row.every((value, j) => Math.abs(value - given[j]![i]!) <= 1e-6 * Math.sqrt(row[i]! * given[j]![j]!)),
    )
  if (!sound) throw fault(measureSays['pick-covariance'](size))
  const place = (i: number): number => 2 * order[i >> 1]! + (i & 1)
  return given.map((_, i) => given.map((__, j) => given[place(i)]![place(j)]!))
}

/** Variance of a quantity of the given gradient, by first order (JCGM 100:2008, 5.2.2): g' C g. */
export function propagatedVariance(
  gradient: readonly number[],
  covariance: readonly (readonly number[])[],
): number {
  let sum = 0
  for (const [i, row] of covariance.entries()) {
    for (const [j, value] of row.entries()) sum += gradient[i]! * gradient[j]! * value
  }
  return Math.max(0, sum)
}
