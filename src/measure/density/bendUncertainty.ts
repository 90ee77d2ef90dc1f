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
