import type { CameraLens } from '../../lens/cameraLens.js'
import { imageSlopes } from '../../lens/imageSlopes.js'
import {
  pointToRay,
  radialPixelsPerRadian,
  tangentialPixelsPerRadian,
  type Ray,
} from '../../lens/projection.js'
import { jacobianAt, mapPoint, type PlaneJacobian } from '../../math/homography.js'
import type { Point } from '../../math/point.js'
import { rectangleCorners } from '../pose/cornerDensity.js'
import { homographyIn, meanRay } from '../pose/rayPlane.js'
import { rayDot, rayFrame, turnBy } from '../pose/turn.js'

/** The image of a rectangle's middle through a lens. */
export interface LensJacobian {
  /** px per metre along the rectangle's own axes, as the still has them there. */
  readonly jacobian: PlaneJacobian
  /** The direction of the rectangle's middle. */
  readonly centreRay: Ray
}

/**
 * The image at a rectangle's centre through a lens: its corners (px) are turned into rays, the homography from its plane to these
 * rays is exact whatever the lens bends, and the lens draws the middle of it. Null where the lens has no image at a corner or the
 * corners are no view of a rectangle through it.
 */
export function jacobianThroughLens(
  corners: readonly Point[],
  widthM: number,
  heightM: number,
  lens: CameraLens,
): LensJacobian | null {
  const rays = corners.map((corner) => pointToRay(lens, corner))
  if (!rays.every((ray) => ray !== null)) return null
  const frame = rayFrame(meanRay(rays))
  const homography = frame === null ? null : homographyIn(frame, rays, rectangleCorners(widthM, heightM))
  if (frame === null || homography === null) return null
  const [qx, qy] = mapPoint(homography, 0, 0)
  const centreRay = turnBy(frame, [qx, qy, 1])
  const [byX, byY] = imageSlopes(lens, centreRay)
  const plane = jacobianAt(homography, 0, 0)
  const drawn = ([x, y]: Point): Point => {
    const moved = turnBy(frame, [x, y, 0])
    return [rayDot(byX, moved), rayDot(byY, moved)]
  }
  return { jacobian: { alongX: drawn(plane.alongX), alongY: drawn(plane.alongY) }, centreRay }
}

/**
 * Px per radian that a target square to the ray gets in the direction `along` of the image, over those in the middle of the picture: how much of a
 * density is the place in the frame. Null where the lens has no image there.
 */
export function lensGain(lens: CameraLens, ray: Ray, along: Point): number | null {
  const off = Math.hypot(ray[0], ray[1])
  const angleRad = Math.atan2(off, ray[2])
  const radial = radialPixelsPerRadian(lens, angleRad)
  const tangential = tangentialPixelsPerRadian(lens, angleRad)
  if (radial === null || tangential === null || !(radial > 0)) return null
  if (off === 0) return 1
  const length = Math.hypot(...along)
  const outward = (along[0] * ray[0] + along[1] * ray[1]) / (off * length)
  const around = (along[1] * ray[0] - along[0] * ray[1]) / (off * length)
  return 1 / Math.hypot(outward / radial, around / tangential) / lens.pixelsPerRadian
}
