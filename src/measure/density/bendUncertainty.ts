/**
 * Greatest |c| of the relative error -c phi^2 that four corners make at the centre of a reference on a lens of unknown projection; phi is half the
 * reference's diagonal over its distance. c = 0, 1/4, 1/3, 0.37, 1/2 for p = 1, 1/2, 0, -1/2, -1 (simulated). The fisheye projections that
 * fixed cameras come with end at p = -1/2: this project's convention.
 */
const BEND_AT_UNIT_ANGLE = 0.37

/**
 * The same against the square of the reference's share of the frame (its longer diagonal over the still's), where neither distance nor lens
 * is known: phi is at most the share, in radians, wherever half the still's diagonal spans up to one radian, a field of
 * 100 degrees across a wide still. This project's convention. Eight published photographs through a narrower lens (the
 * chessboards left01 ... left11 of OpenCV 4's calibration samples against their calibration with distortion) need 0.15 to 0.20; sized
 * on those alone, the intervals of a near board on a 100 degree lens covered 85 % in simulation.
 */
const BEND_AT_FULL_SHARE = BEND_AT_UNIT_ANGLE

/** Relative standard uncertainty for the bend of an unknown lens, of half-width 0.37 phi^2, rectangular. `halfAngleRad` is phi. */
export function bendRelFromAngle(halfAngleRad: number): number {
  return (BEND_AT_UNIT_ANGLE * halfAngleRad ** 2) / Math.sqrt(3)
}

/** The same where only the share of the frame is known: longest extent of the reference in the still over the still's diagonal. */
export function bendRelFromShare(shareOfFrame: number): number {
  return (BEND_AT_FULL_SHARE * shareOfFrame ** 2) / Math.sqrt(3)
}

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
