import { normalDensity, normalIntegral } from '../../math/normalIntegral.js'
import type { Quad } from '../../math/point.js'

/** Value of a blurred area at a point, and its slope there. */
export interface BlurredValue {
  value: number
  slopeX: number
  slopeY: number
}

/** The four sides of an area as lines: inward unit normal (nx, ny) and offset c, so that nx x + ny y + c is the distance inside. */
export function inwardSides(corners: Quad): Float64Array {
  const sides = new Float64Array(12)
  for (let side = 0; side < 4; side += 1) {
    const a = corners[side]!
    const b = corners[(side + 1) % 4]!
    const length = Math.hypot(b[0] - a[0], b[1] - a[1])
    const nx = -(b[1] - a[1]) / length
    const ny = (b[0] - a[0]) / length
    sides.set([nx, ny, -(nx * a[0] + ny * a[1])], 3 * side)
  }
  return sides
}

/**
 * An even area (1 inside, 0 outside) after a Gaussian blur of `sigma`, same unit as the sides: exact for a rectangle, product of the two
 * bands its opposite sides make.
 */
export function blurredArea(
  sides: Float64Array,
  sigma: number,
  x: number,
  y: number,
  out: BlurredValue,
): void {
  const at = (side: number): number =>
    (sides[3 * side]! * x + sides[3 * side + 1]! * y + sides[3 * side + 2]!) / sigma
  const [d0, d1, d2, d3] = [at(0), at(1), at(2), at(3)]
  const bandA = normalIntegral(d0) + normalIntegral(d2) - 1
  const bandB = normalIntegral(d1) + normalIntegral(d3) - 1
  const [p0, p1, p2, p3] = [
    normalDensity(d0) / sigma,
    normalDensity(d1) / sigma,
    normalDensity(d2) / sigma,
    normalDensity(d3) / sigma,
  ]
  out.value = bandA * bandB
  out.slopeX = bandB * (p0 * sides[0]! + p2 * sides[6]!) + bandA * (p1 * sides[3]! + p3 * sides[9]!)
  out.slopeY = bandB * (p0 * sides[1]! + p2 * sides[7]!) + bandA * (p1 * sides[4]! + p3 * sides[10]!)
}
