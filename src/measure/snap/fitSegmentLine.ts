import { inverse, Matrix } from 'ml-matrix'

/** A place along a side (-1/2 .. 1/2), how far outward the edge lies there, px, and its variance, px^2. */
export interface SideShift {
  readonly place: number
  readonly shiftPx: number
  readonly variancePx2: number
}

/** shift = offset + slope s + bow s^2 with the covariance of the three, and how the places scatter about it. */
export interface SideCurve {
  readonly offsetPx: number
  readonly slopePx: number
  readonly bowPx: number
  /** For the variances as given. */
  readonly covariancePx2: readonly (readonly number[])[]
  readonly chi2: number
  readonly dof: number
  /** Root mean square of what is left, px. */
  readonly residualPx: number
}

/** Weighted least squares, the bow held near 0 by its prior standard deviation; null for fewer than three places. */
export function fitSegmentLine(shifts: readonly SideShift[], bowPriorPx: number): SideCurve | null {
  if (shifts.length < 3) return null
  const normal = Matrix.zeros(3, 3)
  const right = Matrix.zeros(3, 1)
  normal.set(2, 2, 1 / bowPriorPx ** 2)
  for (const { place, shiftPx, variancePx2 } of shifts) {
    const row = [1, place, place * place]
    for (let i = 0; i < 3; i += 1) {
      right.set(i, 0, right.get(i, 0) + (row[i]! * shiftPx) / variancePx2)
      for (let j = 0; j < 3; j += 1) normal.set(i, j, normal.get(i, j) + (row[i]! * row[j]!) / variancePx2)
    }
  }
  let covariance: Matrix
  try {
    covariance = inverse(normal)
  } catch {
    return null
  }
  const [offsetPx, slopePx, bowPx] = covariance.mmul(right).to1DArray() as [number, number, number]
  if (!Number.isFinite(offsetPx + slopePx + bowPx)) return null
  let [chi2, squares] = [0, 0]
  for (const { place, shiftPx, variancePx2 } of shifts) {
    const left = shiftPx - offsetPx - place * (slopePx + place * bowPx)
    chi2 += (left * left) / variancePx2
    squares += left * left
  }
  return {
    offsetPx,
    slopePx,
    bowPx,
    covariancePx2: covariance.to2DArray(),
    chi2,
    dof: Math.max(1, shifts.length - 2),
    residualPx: Math.sqrt(squares / shifts.length),
  }
}
