import type { Point } from '../math/point.js'
import type { CameraLens } from './cameraLens.js'

/** A direction from the camera: x right, y down, z forward along the axis. Need not be of unit length. */
export type Ray = readonly [x: number, y: number, z: number]

/** Below this |p t| the family's series ends after its first term in double arithmetic. */
const SMALL_ARGUMENT = 1e-8

/**
 * Distance from the centre over the focal length, r/f, at `angleRad` off the axis, of the family r/f = tan(p t)/p for
 * p > 0, t for p = 0, sin(-p t)/(-p) for p < 0 (five named members: lens-correction and fisheye texts). It is continuous in p.
 * Null where the projection has no image: a negative angle, one over pi, or one at or beyond a quarter turn of p t.
 */
export function projectionRadius(p: number, angleRad: number): number | null {
  if (!(angleRad >= 0 && angleRad <= Math.PI)) return null
  const turn = Math.abs(p) * angleRad
  if (turn < SMALL_ARGUMENT) return angleRad
  if (p > 0) return turn < Math.PI / 2 ? Math.tan(turn) / p : null
  return turn <= Math.PI / 2 ? Math.sin(turn) / -p : null
}

/**
 * The angle off the axis, radians, whose image lies `radius` = r/f from the centre: the inverse of `projectionRadius`.
 * Null where no angle up to pi has its image there, or `radius` is negative.
 */
export function projectionAngle(p: number, radius: number): number | null {
  if (!(radius >= 0 && radius < Infinity)) return null
  const turn = Math.abs(p) * radius
  if (turn < SMALL_ARGUMENT) return radius <= Math.PI ? radius : null
  if (p < 0 && turn > 1) return null
  const angleRad = p > 0 ? Math.atan(turn) / p : Math.asin(turn) / -p
  return angleRad <= Math.PI ? angleRad : null
}

/**
 * Image px per radian along the radius at `angleRad` off the axis: dr/dt. What a target square to the ray gets in the
 * direction that points at the centre. Null where the lens has no image.
 */
export function radialPixelsPerRadian(lens: CameraLens, angleRad: number): number | null {
  const radius = projectionRadius(lens.p, angleRad)
  if (radius === null) return null
  const slope = lens.p > 0 ? 1 + (lens.p * radius) ** 2 : Math.cos(lens.p * angleRad)
  return lens.pixelsPerRadian * slope
}

/**
 * Image px per radian across the radius at `angleRad` off the axis: r/sin t. What a target square to the ray gets in
 * the direction around the centre. Null where the lens has no image, and straight behind it.
 */
export function tangentialPixelsPerRadian(lens: CameraLens, angleRad: number): number | null {
  if (angleRad === 0) return lens.pixelsPerRadian
  const radius = projectionRadius(lens.p, angleRad)
  if (radius === null || angleRad === Math.PI) return null
  return (lens.pixelsPerRadian * radius) / Math.sin(angleRad)
}

/** The unit direction seen at an image point (px, (0,0) at the outer corner of the top-left pixel); null outside the lens' image. */
export function pointToRay(lens: CameraLens, point: Point): Ray | null {
  const acrossPx = point[0] - lens.centreX
  const downPx = point[1] - lens.centreY
  const offPx = Math.hypot(acrossPx, downPx)
  const angleRad = projectionAngle(lens.p, offPx / lens.pixelsPerRadian)
  if (angleRad === null) return null
  if (offPx === 0) return [0, 0, 1]
  const sideways = Math.sin(angleRad) / offPx
  return [acrossPx * sideways, downPx * sideways, Math.cos(angleRad)]
}

/** The image point (px) of a direction; null where the lens has no image of it: straight behind, or outside the projection. */
export function rayToPoint(lens: CameraLens, ray: Ray): Point | null {
  const off = Math.hypot(ray[0], ray[1])
  if (off === 0) return ray[2] > 0 ? [lens.centreX, lens.centreY] : null
  const radius = projectionRadius(lens.p, Math.atan2(off, ray[2]))
  if (radius === null) return null
  const scale = (lens.pixelsPerRadian * radius) / off
  return [lens.centreX + ray[0] * scale, lens.centreY + ray[1] * scale]
}

/**
 * F, px per radian at the centre, of a lens that draws straight lines straight (p = 1) and sees `fullAngleDeg` over `sidePx`;
 * null from 180 degrees on, which no such lens sees.
 */
export function rectilinearPixelsPerRadian(sidePx: number, fullAngleDeg: number): number | null {
  if (!(fullAngleDeg > 0 && fullAngleDeg < 180)) return null
  return sidePx / 2 / Math.tan((fullAngleDeg * Math.PI) / 360)
}

/** The angle in degrees such a lens sees over `otherPx` when it sees `fullAngleDeg` over `sidePx`; 180 from 180 degrees on. */
export function rectilinearAngleDeg(sidePx: number, fullAngleDeg: number, otherPx: number): number {
  const pixelsPerRadian = rectilinearPixelsPerRadian(sidePx, fullAngleDeg)
  return pixelsPerRadian === null ? 180 : (Math.atan(otherPx / 2 / pixelsPerRadian) * 360) / Math.PI
}
