import { choleskyInverse } from '../../math/cholesky.js'
import { dot } from '../../math/normalEquations.js'
import { fault } from '../../sentences.js'
import { gradeSays } from '../sentences.js'

/** Where a tape begins against the lens's entrance pupil, as it is *told*: 0 +/- this, metres, one standard deviation. This project's convention. */
export const OFFSET_PRIOR_M = 0.03

/**
 * The same as it is *judged*: no test tells a tape that begins 0.1 to 0.2 m off in time, and believed to 0.03 m such a walk is promised wrongly in 39 to 100 of
 * 100 (simulated). This project's convention.
 */
export const START_PRIOR_M = 0.2

/** One mark as the fit sees it. */
export interface FitPoint {
  /** Line of sight, metres. */
  readonly distanceM: number
  readonly densityPxPerM: number
  /** Relative standard uncertainty of the density that other marks do not share. */
  readonly ownRel: number
  /** Standard uncertainty of the tape, metres. */
  readonly tapeM: number
  /** Freedom of the model at this mark, relative. */
  readonly modelRel: number
  /** Relative change of the density when each draw that all marks share is one standard deviation up, signed; as many at every point. */
  readonly loads: readonly number[]
}

/** The fitted constant F (px per radian, as ln F) and offset a (metres), with what any logarithm made of them is worth. */
export interface FittedConstant {
  readonly logConstant: number
  readonly offsetM: number
  /** The shared draws as the marks themselves tell them, standard deviations. */
  readonly draws: readonly number[]
  /** Of ln F, a and the shared draws, in this order. */
  readonly covariance: readonly (readonly number[])[]
  /** Per point: how it answers to each of these, and the inverse of its own variance. */
  readonly rows: readonly (readonly number[])[]
  readonly weights: readonly number[]
  /** Of the priors: of nothing for ln F, of the tape's start, 1 for every draw. */
  readonly priorWeights: readonly number[]
  /** Sum of squared residuals over their variances, the priors' included. */
  readonly chi2: number
}

// A mark without any uncertainty would leave no number for the others. This project's convention.
const LEAST_VARIANCE = 1e-14

/**
 * Fits ln density = ln F - ln(d + a) with a = 0 +/- `startPriorM` by generalised least squares: own noise, tape and model are each point's, the draws that all
 * share are unknowns of their own, each 0 +/- 1 times its load, which is the same as their outer products in the covariance. The uncertainty of the distance joins the
 * density's (effective variance; exact here to first order, the slope of ln density on ln d being -1). Needs one point at least; all distances positive.
 * @throws `ProofwalkError` `bad-argument` where a point is not finite
 */
export function fitConstant(points: readonly FitPoint[], startPriorM = START_PRIOR_M): FittedConstant {
  const priorWeights = [0, 1 / startPriorM ** 2, ...points[0]!.loads.map(() => 1)]
  const nearestM = Math.min(...points.map(({ distanceM }) => distanceM))
  let offsetM = 0
  for (let step = 0; ; step++) {
    const rows = points.map((point) => rowOf(point, offsetM))
    const weights = points.map((point) => 1 / pointVariance(point, offsetM))
    // The model linearised around the present offset.
    const targets = points.map(
      ({ densityPxPerM, distanceM }, i) =>
        Math.log(densityPxPerM) + Math.log(distanceM + offsetM) + rows[i]![1]! * offsetM,
    )
    const covariance = inverse(
      priorWeights.map((prior, a) =>
        priorWeights.map((_, b) =>
          rows.reduce((sum, row, i) => sum + weights[i]! * row[a]! * row[b]!, a === b ? prior : 0),
        ),
      ),
    )
    const right = priorWeights.map((_, a) =>
      dot(
        weights,
        rows.map((row, i) => row[a]! * targets[i]!),
      ),
    )
    const solved = covariance.map((row) => dot(row, right))
    // A tape cannot begin behind the nearest mark: half the way there is as far as a wild mark may push it.
    solved[1] = Math.max(solved[1]!, -nearestM / 2)
    // Four steps: each gains the square of a / d, so the last moves nothing that counts.
    if (step === 4) {
      const residuals = rows.map((row, i) => targets[i]! - dot(row, solved))
      const chi2 =
        dot(
          weights,
          residuals.map((each) => each ** 2),
        ) +
        dot(
          priorWeights,
          solved.map((each) => each ** 2),
        )
      const [logConstant, fittedM, ...draws] = solved as [number, number, ...number[]]
      return { logConstant, offsetM: fittedM, draws, covariance, rows, weights, priorWeights, chi2 }
    }
    offsetM = solved[1]!
  }
}

/** How the logarithm of a point's density answers to ln F, the offset and the shared draws. */
function rowOf({ distanceM, loads }: FitPoint, offsetM: number): number[] {
  return [1, -1 / (distanceM + offsetM), ...loads]
}

/** Variance of ln(density x distance) of one point that other points do not share. */
function pointVariance(point: FitPoint, offsetM: number): number {
  return Math.max(
    LEAST_VARIANCE,
    point.ownRel ** 2 + (point.tapeM / (point.distanceM + offsetM)) ** 2 + point.modelRel ** 2,
  )
}

function inverse(matrix: readonly (readonly number[])[]): number[][] {
  const k = matrix.length
  const found = choleskyInverse(Float64Array.from(matrix.flat()), k)
  if (found === null) throw fault(gradeSays['mark-not-finite']())
  return matrix.map((_, i) => [...found.subarray(i * k, (i + 1) * k)])
}
