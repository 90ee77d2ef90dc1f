import { failure, success, type Outcome } from '../../src/math/outcome.js'
import { fitWeightedLine, type LineFit } from '../../src/math/weightedLine.js'

/** A point of a line with the standard uncertainties of both its coordinates, independent of each other. */
export interface UncertainPoint {
  readonly x: number
  readonly y: number
  readonly uX: number
  readonly uY: number
}

const MOST_ITERATIONS = 200

/**
 * The straight line y = intercept + slope x through points uncertain in both coordinates: the exact least squares of York
 * (Can. J. Phys. 44 (1966) 1079), iterated as in York et al. (Am. J. Phys. 72 (2004) 367), effective variances uY^2 + slope^2 uX^2.
 * Variances are those of York 2004, taken at the adjusted points, for uncertainties known in full: multiply by
 * residualSum / dof where only their ratios are. (Another convention, the curvature of the likelihood, gives 1 % less.)
 * Fails where the points do not determine a line, a number is not finite, or the iteration does not settle.
 */
export function fitLineErrorsInBoth(
  points: readonly UncertainPoint[],
): Outcome<LineFit, 'not-determined' | 'not-finite' | 'not-converged'> {
  for (const { uX, uY } of points) {
    if (!(uX >= 0 && uY >= 0 && uX + uY > 0 && uX + uY < Infinity)) {
      return failure({ code: 'not-finite', message: `uncertainties ${uX} and ${uY} are none of a point` })
    }
  }
  const first = fitWeightedLine(points.map(({ x, y }) => ({ x, y, weight: 1 })))
  if (!first.ok) return first
  let slope = first.value.slope
  for (let iteration = 0; iteration < MOST_ITERATIONS; iteration++) {
    const centred = adjustedAt(points, slope)
    const next = slopeThrough(centred)
    if (!Number.isFinite(next))
      return failure({ code: 'not-determined', message: 'the points do not determine a slope' })
    if (Math.abs(next - slope) <= 1e-14 * Math.abs(next)) return success(lineAt(points, next))
    slope = next
  }
  return failure({ code: 'not-converged', message: `the line did not settle in ${MOST_ITERATIONS} steps` })
}

/** The points about their weighted mean at one slope, `beta` being the abscissa adjusted onto the line. */
interface AdjustedPoints {
  readonly total: number
  readonly meanX: number
  readonly meanY: number
  readonly points: readonly { weight: number; fromX: number; fromY: number; beta: number }[]
}

function adjustedAt(points: readonly UncertainPoint[], slope: number): AdjustedPoints {
  const weights = points.map(({ uX, uY }) => 1 / (uY * uY + slope * slope * uX * uX))
  let total = 0
  let meanX = 0
  let meanY = 0
  for (const [i, { x, y }] of points.entries()) {
    const weight = weights[i]!
    total += weight
    meanX += (weight / total) * (x - meanX)
    meanY += (weight / total) * (y - meanY)
  }
  const about = points.map(({ x, y, uX, uY }, i) => {
    const weight = weights[i]!
    const beta = weight * ((x - meanX) * uY * uY + slope * (y - meanY) * uX * uX)
    return { weight, fromX: x - meanX, fromY: y - meanY, beta }
  })
  return { total, meanX, meanY, points: about }
}

function slopeThrough({ points }: AdjustedPoints): number {
  let above = 0
  let below = 0
  for (const { weight, fromX, fromY, beta } of points) {
    above += weight * beta * fromY
    below += weight * beta * fromX
  }
  return above / below
}

function lineAt(points: readonly UncertainPoint[], slope: number): LineFit {
  const { total, meanX, meanY, points: about } = adjustedAt(points, slope)
  let residualSum = 0
  let meanBeta = 0
  for (const { weight, fromX, fromY, beta } of about) {
    residualSum += weight * (fromY - slope * fromX) ** 2
    meanBeta += (weight / total) * beta
  }
  let spread = 0
  for (const { weight, beta } of about) spread += weight * (beta - meanBeta) ** 2
  const middle = meanX + meanBeta
  return {
    intercept: meanY - slope * meanX,
    slope,
    interceptVariance: 1 / total + (middle * middle) / spread,
    slopeVariance: 1 / spread,
    covariance: -middle / spread,
    residualSum,
    dof: points.length - 2,
  }
}
