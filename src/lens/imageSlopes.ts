import type { CameraLens } from './cameraLens.js'
import { radialPixelsPerRadian, tangentialPixelsPerRadian, type Ray } from './projection.js'

/** How a direction's image point moves, px a metre: its x and its y by the ray's three components. The lens must have an image of it. */
export function imageSlopes(lens: CameraLens, [x, y, z]: Ray): readonly [Ray, Ray] {
  const off = Math.hypot(x, y)
  const length = Math.hypot(off, z)
  const angleRad = Math.atan2(off, z)
  const radial = radialPixelsPerRadian(lens, angleRad) ?? 0
  const around = (tangentialPixelsPerRadian(lens, angleRad) ?? 0) / length
  const [cos, sin] = off === 0 ? [1, 0] : [x / off, y / off]
  // Outward by the angle off the axis, and around it.
  const outward = (radial * z) / (length * length)
  const inward = (-radial * off) / (length * length)
  const mixed = (outward - around) * cos * sin
  return [
    [outward * cos * cos + around * sin * sin, mixed, inward * cos],
    [mixed, outward * sin * sin + around * cos * cos, inward * sin],
  ]
}
