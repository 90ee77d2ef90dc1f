import type { Point, Quad } from './point.js'

/**
 * A projective map of a plane onto another, row by row: (x, y) goes to ((h0 x + h1 y + h2) / w, (h3 x + h4 y + h5) / w),
 * w = h6 x + h7 y + h8. Its scale is of no meaning.
 */
export type Homography = Float64Array

/** The image of a point. Not finite on the line that goes to infinity. */
export function mapPoint(h: Homography, x: number, y: number): Point {
  const w = h[6]! * x + h[7]! * y + h[8]!
  return [(h[0]! * x + h[1]! * y + h[2]!) / w, (h[3]! * x + h[4]! * y + h[5]!) / w]
}

/** The derivatives of the map at a point: image units per plane unit. */
export interface PlaneJacobian {
  /** d image / d plane x: [dx'/dx, dy'/dx]. */
  readonly alongX: Point
  /** d image / d plane y: [dx'/dy, dy'/dy]. */
  readonly alongY: Point
}

/** The Jacobian of the map at a point of the plane. */
export function jacobianAt(h: Homography, x: number, y: number): PlaneJacobian {
  const w = h[6]! * x + h[7]! * y + h[8]!
  const [u, v] = mapPoint(h, x, y)
  return {
    alongX: [(h[0]! - u * h[6]!) / w, (h[3]! - v * h[6]!) / w],
    alongY: [(h[1]! - u * h[7]!) / w, (h[4]! - v * h[7]!) / w],
  }
}

/** The larger singular value of a 2 x 2 Jacobian: the most image units any direction of the plane gets. */
export function greatestStretch({ alongX: [a, c], alongY: [b, d] }: PlaneJacobian): number {
  return (Math.hypot(a + d, c - b) + Math.hypot(a - d, c + b)) / 2
}

/** How much of the image a unit of the plane's area takes. */
export function areaStretch({ alongX: [a, c], alongY: [b, d] }: PlaneJacobian): number {
  return Math.abs(a * d - b * c)
}

/** The map `first`, then `second`. */
export function composeHomographies(second: Homography, first: Homography): Homography {
  const out = new Float64Array(9)
  for (let row = 0; row < 9; row += 3)
    for (let column = 0; column < 3; column += 1)
      out[row + column] =
        second[row]! * first[column]! +
        second[row + 1]! * first[column + 3]! +
        second[row + 2]! * first[column + 6]!
  return out
}

/** The map whose images lie (dx, dy) farther. */
export function movedHomography(h: Homography, dx: number, dy: number): Homography {
  return composeHomographies(Float64Array.of(1, 0, dx, 0, 1, dy, 0, 0, 1), h)
}

/** The map back, or null where there is none. */
export function inverseHomography(h: Homography): Homography | null {
  const [a, b, c, d, e, f, g, i, j] = h as unknown as Nine
  const out = Float64Array.of(
    e * j - f * i,
    c * i - b * j,
    b * f - c * e,
    f * g - d * j,
    a * j - c * g,
    c * d - a * f,
    d * i - e * g,
    b * g - a * i,
    a * e - b * d,
  )
  const determinant = a * out[0]! + b * out[3]! + c * out[6]!
  if (!Number.isFinite(determinant) || determinant === 0) return null
  for (let at = 0; at < 9; at += 1) out[at]! /= determinant
  return out
}

type Nine = readonly [number, number, number, number, number, number, number, number, number]

/** The map of a level box's corners onto a quad, clockwise from the box's top left. */
export function boxTo(box: LevelBox, quad: Quad): Homography {
  const out = new Float64Array(9)
  writeBoxTo(box, quad[0], quad[1], quad[2], quad[3], out)
  return out
}

/** A level rectangle. */
export interface LevelBox {
  readonly left: number
  readonly top: number
  readonly right: number
  readonly bottom: number
}

/** The same into `out`: the unit square onto the quad (P. Heckbert, MSc thesis, UC Berkeley 1989, section 2.2.2), after the box onto the unit square. */
export function writeBoxTo(box: LevelBox, p0: Point, p1: Point, p2: Point, p3: Point, out: Homography): void {
  const sumX = p0[0] - p1[0] + p2[0] - p3[0]
  const sumY = p0[1] - p1[1] + p2[1] - p3[1]
  const dx1 = p1[0] - p2[0]
  const dy1 = p1[1] - p2[1]
  const dx2 = p3[0] - p2[0]
  const dy2 = p3[1] - p2[1]
  const determinant = dx1 * dy2 - dx2 * dy1
  const width = box.right - box.left
  const height = box.bottom - box.top
  const g = (sumX * dy2 - dx2 * sumY) / determinant
  const h = (dx1 * sumY - sumX * dy1) / determinant
  const a = (p1[0] - p0[0] + g * p1[0]) / width
  const b = (p3[0] - p0[0] + h * p3[0]) / height
  const d = (p1[1] - p0[1] + g * p1[1]) / width
  const e = (p3[1] - p0[1] + h * p3[1]) / height
  out[0] = a
  out[1] = b
  out[2] = p0[0] - a * box.left - b * box.top
  out[3] = d
  out[4] = e
  out[5] = p0[1] - d * box.left - e * box.top
  out[6] = g / width
  out[7] = h / height
  out[8] = 1 - (g / width) * box.left - (h / height) * box.top
}
