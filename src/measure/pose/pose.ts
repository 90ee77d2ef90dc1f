import type { Pose } from '../stillMeasurement.js'
import {
  composeTurns,
  inverseTurn,
  turnAbout,
  type Turn,
  rayCross,
  rayFrame,
  turnBy,
  turnOfColumns,
} from './turn.js'
import type { CameraLens } from '../../lens/cameraLens.js'
import {
  pointToRay,
  radialPixelsPerRadian,
  tangentialPixelsPerRadian,
  type Ray,
} from '../../lens/projection.js'
import { jacobianAt, mapPoint, type Homography, greatestStretch } from '../../math/homography.js'
import { failure, success, type Outcome } from '../../math/outcome.js'
import type { Quad } from '../../math/point.js'
import { rectangleCorners } from './cornerDensity.js'
import { homographyIn, meanRay } from './rayPlane.js'
import { refinePose, type FramedPose } from './refinePose.js'
import { measureSays } from '../sentences.js'

/** Where a reference stands and how it is turned, as a lens makes it out. */
export interface ReferencePose {
  readonly pose: Pose
  /** From the entrance pupil to the reference's centre, metres. */
  readonly distanceM: number
  /** Angle of the centre off the lens' axis, radians. */
  readonly offAxisRad: number
}

/**
 * Pose of a rectangle from its four corners (px, clockwise from its own top left) through a lens: the projection is undone,
 * the homography on the plane square to the ray of the centre gives distance and turn in closed form up to the sign of the
 * tilt, and both signs are refined by Levenberg-Marquardt to the least distance in the image; the better one counts.
 *
 * Angles in degrees against the ray through the centre; all 0 where the reference is square to it and level. Yaw > 0: its right side is nearer;
 * pitch > 0: its top leans away (a camera looking down on an upright board sees a negative pitch); roll > 0: turned clockwise in the image. The turn is yaw, then pitch, then roll about
 * its own normal. Far off, where perspective drowns in the corners' noise, the sign of yaw and pitch together is not to be trusted.
 * Fails where the lens has no image at a corner or the corners are no view of a rectangle through it.
 */
export function referencePose(
  corners: Quad,
  widthM: number,
  heightM: number,
  lens: CameraLens,
): Outcome<ReferencePose, 'pose-unknown'> {
  const placed = placeReference(corners, widthM, heightM, lens)
  const unknown = failure(measureSays['pose-unknown']())
  if (placed === null) return unknown
  const { frame, pose: best } = placed
  const centre = turnBy(frame, best.centre)
  const distanceM = Math.hypot(...centre)
  const own = rayFrame(centre)
  if (own === null || !(distanceM > 0 && distanceM < Infinity)) return unknown
  const turn = composeTurns(inverseTurn(own), composeTurns(frame, best.turn))
  return success({
    pose: poseAngles(turn),
    distanceM,
    offAxisRad: Math.atan2(Math.hypot(centre[0], centre[1]), centre[2]),
  })
}

/**
 * The pose of a rectangle in the frame of the ray to its centre, as described at `referencePose`; null where there is none.
 */
export function placeReference(
  corners: Quad,
  widthM: number,
  heightM: number,
  lens: CameraLens,
): { readonly frame: Turn; readonly pose: FramedPose } | null {
  const rays = corners.map((corner) => pointToRay(lens, corner))
  if (!rays.every((ray) => ray !== null)) return null
  const plane = rectangleCorners(widthM, heightM)
  const rough = rayFrame(meanRay(rays))
  const first = rough === null ? null : homographyIn(rough, rays, plane)
  if (rough === null || first === null) return null
  const [qx, qy] = mapPoint(first, 0, 0)
  const frame = rayFrame(turnBy(rough, [qx, qy, 1]))
  const homography = frame === null ? null : homographyIn(frame, rays, plane)
  if (frame === null || homography === null) return null

  const starts = closedForm(homography)
  const fits = starts.map((start) => refinePose(start, frame, plane, corners, lens))
  const best = fits.reduce((a, b) => (b.residualSum < a.residualSum ? b : a))
  return { frame, pose: best }
}

/**
 * Density, px/m, of a target square to the ray at the pose's place: the fewer of the lens' px per radian along and
 * around the radius there, over the distance. Null where the lens has none.
 */
export function facingDensity(pose: ReferencePose, lens: CameraLens): number | null {
  const radial = radialPixelsPerRadian(lens, pose.offAxisRad)
  const tangential = tangentialPixelsPerRadian(lens, pose.offAxisRad)
  return radial === null || tangential === null ? null : Math.min(radial, tangential) / pose.distanceM
}

/**
 * On the ray itself the Jacobian is the upper left 2 x 2 of the turn over the distance. Its larger singular value is one
 * over the distance; the third components follow from the columns' unit length, their common sign does not.
 */
function closedForm(homography: Homography): FramedPose[] {
  const { alongX, alongY } = jacobianAt(homography, 0, 0)
  const perM = greatestStretch({ alongX, alongY })
  const [a, c] = [alongX[0] / perM, alongX[1] / perM]
  const [b, d] = [alongY[0] / perM, alongY[1] / perM]
  const depthX = Math.sqrt(Math.max(0, 1 - a * a - c * c))
  const depthY = Math.sqrt(Math.max(0, 1 - b * b - d * d)) * (a * b + c * d > 0 ? -1 : 1)
  return [1, -1].map((sign) => {
    const right: Ray = [a, c, sign * depthX]
    const down: Ray = [b, d, sign * depthY]
    const turn = turnOfColumns(right, down, rayCross(right, down))
    return { turn, centre: [0, 0, 1 / perM] }
  })
}

/**
 * Yaw, pitch and roll in degrees of a turn whose columns are a reference's own right, down and far-side normal, in a frame with x right,
 * y down, z away: yaw, then pitch, then roll about the reference's own normal; signs as at `referencePose`.
 */
function poseAngles(turn: Turn): Pose {
  const yawRad = Math.atan2(turn[2], turn[8])
  const pitchRad = Math.asin(Math.max(-1, Math.min(1, turn[5])))
  const upright = composeTurns(turnAbout(0, yawRad, 0), turnAbout(-pitchRad, 0, 0))
  const inPlane = composeTurns(inverseTurn(upright), turn)
  const degrees = 180 / Math.PI
  return {
    yaw: yawRad * degrees,
    pitch: pitchRad * degrees,
    roll: Math.atan2(inPlane[3], inPlane[0]) * degrees,
  }
}
