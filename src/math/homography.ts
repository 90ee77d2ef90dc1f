import type { Point } from './point.js'

/**
 * A projective map of a plane onto another, row by row: (x, y) goes to ((h0 x + h1 y + h2) / w, (h3 x + h4 y + h5) / w),
 * w = h6 x + h7 y + h8. Its scale is of no meaning.
 */
export type Homography = readonly [number, number, number, number, number, number, number, number, number]

/** The image of a point. Not finite on the line that goes to infinity. */
export function mapPoint(h: Homography, [x, y]: Point): Point {
  const w = h[6] * x + h[7] * y + h[8]
  return [(h[0] * x + h[1] * y + h[2]) / w, (h[3] * x + h[4] * y + h[5]) / w]
}

/** The derivatives of the map at a point: image units per plane unit. */
export interface PlaneJacobian {
  /** d image / d plane x: [dx'/dx, dy'/dx]. */
  readonly alongX: Point
  /** d image / d plane y: [dx'/dy, dy'/dy]. */
  readonly alongY: Point
}

/** The Jacobian of the map at a point of the plane. */
export function jacobianAt(h: Homography, [x, y]: Point): PlaneJacobian {
  const w = h[6] * x + h[7] * y + h[8]
  const [u, v] = mapPoint(h, [x, y])
  return {
    alongX: [(h[0] - u * h[6]) / w, (h[3] - v * h[6]) / w],
    alongY: [(h[1] - u * h[7]) / w, (h[4] - v * h[7]) / w],
  }
}

/** The map back, by the adjugate: finite for every map that has an inverse. */
export function inverseHomography(h: Homography): Homography {
  const [a, b, c, d, e, f, g, i, j] = h
  return [
    e * j - f * i,
    c * i - b * j,
    b * f - c * e,
    f * g - d * j,
    a * j - c * g,
    c * d - a * f,
    d * i - e * g,
    b * g - a * i,
    a * e - b * d,
  ]
}

/** The map `first`, then `second`. */
export function composeHomographies(second: Homography, first: Homography): Homography {
  const cell = (row: number, column: number): number =>
    second[3 * row]! * first[column]! +
    second[3 * row + 1]! * first[column + 3]! +
    second[3 * row + 2]! * first[column + 6]!
  return [
    cell(0, 0),
    cell(0, 1),
    cell(0, 2),
    cell(1, 0),
    cell(1, 1),
    cell(1, 2),
    cell(2, 0),
    cell(2, 1),
    cell(2, 2),
  ]
}

/** The larger singular value of a 2 x 2 Jacobian: the most image units any direction of the plane gets. */
export function greatestStretch({ alongX: [a, c], alongY: [b, d] }: PlaneJacobian): number {
  return (Math.hypot(a + d, c - b) + Math.hypot(a - d, c + b)) / 2
}
