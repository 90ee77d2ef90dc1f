/** Where a tape begins against the lens's entrance pupil: 0 +/- this, metres, one standard deviation. This project's convention. */
export const OFFSET_PRIOR_M = 0.03

/** One mark as the fit sees it: relative standard uncertainties that are independent from mark to mark. */
export interface FitPoint {
  /** Line of sight, metres. */
  readonly distanceM: number
  readonly densityPxPerM: number
  /** Of the density. */
  readonly ownRel: number
  /** Of the tape, metres. */
  readonly tapeM: number
  /** Freedom of the model at this mark. */
  readonly modelRel: number
}

/**
 * The fitted constant F (px per radian, as ln F) and offset a (metres), and how each answers to its data: `ofPoints[i]` is the
 * change per unit of relative change in point i's density times distance, `ofPrior` per metre of the prior.
 */
export interface FittedConstant {
  readonly logConstant: number
  readonly offsetM: number
  readonly logConstantOf: Sensitivity
  readonly offsetOf: Sensitivity
  /** Sum of squared residuals over their variances, the prior's included. */
  readonly chi2: number
}

interface Sensitivity {
  readonly ofPoints: readonly number[]
  readonly ofPrior: number
}

/**
 * Fits 1/density = (d + a)/F with a = 0 +/- 0.03 m by weighted least squares in logarithms, z = ln(density d) = ln F - ln(1 + a/d), the
 * uncertainty of the distance joined to the density's (effective variance; exact here to first order, the slope of ln density on ln d
 * being -1). Needs one point at least; all distances positive.
 */
export function fitConstant(points: readonly FitPoint[]): FittedConstant {
  const z = points.map(({ densityPxPerM, distanceM }) => Math.log(densityPxPerM * distanceM))
  const priorWeight = 1 / OFFSET_PRIOR_M ** 2
  let offsetM = 0
  for (let step = 0; ; step++) {
    const slope = points.map(({ distanceM }) => -1 / (distanceM + offsetM))
    const weight = points.map((point) => 1 / pointVariance(point, offsetM))
    const w = sum(weight)
    const ws = sum(weight.map((each, i) => each * slope[i]!))
    const wss = sum(weight.map((each, i) => each * slope[i]! ** 2)) + priorWeight
    const determinant = w * wss - ws * ws
    // The model linearised around the present offset: z + ln(1 + a/d) + slope a = ln F + slope a'.
    const target = z.map((each, i) => each + modelLog(points[i]!, offsetM) + slope[i]! * offsetM)
    const logConstantOf: Sensitivity = {
      ofPoints: weight.map((each, i) => (each * (wss - ws * slope[i]!)) / determinant),
      ofPrior: (-ws * priorWeight) / determinant,
    }
    const offsetOf: Sensitivity = {
      ofPoints: weight.map((each, i) => (each * (w * slope[i]! - ws)) / determinant),
      ofPrior: (w * priorWeight) / determinant,
    }
    const logConstant = sum(target.map((each, i) => each * logConstantOf.ofPoints[i]!))
    // A tape cannot begin behind the nearest mark: half the way there is as far as a wild mark may push it.
    const nearest = Math.min(...points.map(({ distanceM }) => distanceM))
    const next = Math.max(sum(target.map((each, i) => each * offsetOf.ofPoints[i]!)), -nearest / 2)
    // Four steps: each gains the square of a / d, so the last moves nothing that counts.
    if (step === 4) {
      const residuals = target.map((each, i) => each - logConstant - slope[i]! * next)
      const chi2 = sum(residuals.map((each, i) => weight[i]! * each ** 2)) + next ** 2 * priorWeight
      return { logConstant, offsetM: next, logConstantOf, offsetOf, chi2 }
    }
    offsetM = next
  }
}

/** Variance of ln(density x distance) of one point that other points do not share. */
export function pointVariance(point: FitPoint, offsetM: number): number {
  return point.ownRel ** 2 + (point.tapeM / (point.distanceM + offsetM)) ** 2 + point.modelRel ** 2
}

function modelLog({ distanceM }: FitPoint, offsetM: number): number {
  return Math.log1p(offsetM / distanceM)
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0)
}
