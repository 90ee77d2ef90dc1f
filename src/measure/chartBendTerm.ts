/**
 * Greatest c of the relative error -c phi^2 that the fit of a whole chart as a plane makes at its centre on a lens of unknown projection; phi is
 * half the frame's diagonal over its distance. In the middle of the picture c = 0.17, 0.22, 0.25 for p = 1/2, 0, -1/2, two thirds of what four
 * corners make, because edges near the middle hold the fit. Away from it c grows: 0.31 at 30 and 0.49 at 60 degrees for p = -1/2, turned to
 * 30 degrees (simulated). As in `bendRelFromAngle`, projections end at p = -1/2.
 */
const BEND_IN_THE_MIDDLE = 0.25
/** By rho, the distance from the picture's centre over half its diagonal, c is at most 0.25 (1 + 2 rho^2) where the diagonal spans up to 180 degrees. */
const BEND_OUTWARD = 2

/** Relative standard uncertainty for the bend of an unknown lens on a found chart, rectangular. `halfAngleRad` is phi, `outward` rho. */
export function chartBendRel(halfAngleRad: number, outward: number): number {
  return (BEND_IN_THE_MIDDLE * (1 + BEND_OUTWARD * outward ** 2) * halfAngleRad ** 2) / Math.sqrt(3)
}
