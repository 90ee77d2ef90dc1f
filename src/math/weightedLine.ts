import { failure, success, type Outcome } from './outcome.js'
import { mathSays } from './sentences.js'

/** A fitted line y = intercept + slope x with its covariance. */
export interface LineFit {
  readonly intercept: number
  readonly slope: number
  /** Variances and covariance for points whose weights are 1 / variance; times residualSum / dof where their scale is unknown. */
  readonly interceptVariance: number
  readonly slopeVariance: number
  readonly covariance: number
  /** Weighted sum of squared residuals: chi-square where the weights are 1 / variance. */
  readonly residualSum: number
  /** Points less two. */
  readonly dof: number
}

/** A point of a line with its weight, 1 / variance of y. */
export interface WeightedPoint {
  readonly x: number
  readonly y: number
  readonly weight: number
}

/**
 * The straight line through points whose x are exact, by weighted least squares about the weighted mean (JCGM 100:2008,
 * H.3). Fails where fewer than two different x carry weight, or a number is not finite or a weight not positive.
 */
export function fitWeightedLine(
  points: readonly WeightedPoint[],
): Outcome<LineFit, 'not-determined' | 'not-finite'> {
  let total = 0
  let meanX = 0
  let meanY = 0
  for (const { x, y, weight } of points) {
    if (!(Number.isFinite(x + y) && weight > 0 && weight < Infinity)) {
      return failure(mathSays['no-point-of-a-line'](x, y, weight))
    }
    total += weight
    meanX += (weight / total) * (x - meanX)
    meanY += (weight / total) * (y - meanY)
  }
  let sumXX = 0
  let sumXY = 0
  let reach = 0
  for (const { x, y, weight } of points) {
    sumXX += weight * (x - meanX) ** 2
    sumXY += weight * (x - meanX) * (y - meanY)
    reach = Math.max(reach, Math.abs(x))
  }
  if (!(sumXX > 1e-28 * total * reach * reach)) {
    return failure(mathSays['one-place']())
  }
  const slope = sumXY / sumXX
  const intercept = meanY - slope * meanX
  let residualSum = 0
  for (const { x, y, weight } of points) residualSum += weight * (y - meanY - slope * (x - meanX)) ** 2
  return success({
    intercept,
    slope,
    interceptVariance: 1 / total + (meanX * meanX) / sumXX,
    slopeVariance: 1 / sumXX,
    covariance: -meanX / sumXX,
    residualSum,
    dof: points.length - 2,
  })
}
