import type { PlaneJacobian } from '../../math/homography.js'
import type { Point, Quad } from '../../math/point.js'

/** A corner's depth over the centre's under which three corners are in line, or one lies beyond the line at infinity. */
const LEAST_DEPTH = 1e-9

/** The rectangle's corners on its own plane, metres, clockwise from its top left, its centre at the origin, x right, y down. */
export function rectangleCorners(widthM: number, heightM: number): Quad {
  const x = widthM / 2
  const y = heightM / 2
  return [
    [-x, -y],
    [x, -y],
    [x, y],
    [-x, y],
  ]
}

/**
 * The Jacobian, px per metre, at the rectangle's centre of the homography through its corners (P. Heckbert, MSc thesis, UC Berkeley 1989, section 2.2.2: the unit
 * square onto a quad); null where they are no view of a rectangle: three in line, or a corner beyond the line at infinity.
 */
export function centreJacobian(
  corners: readonly Point[],
  widthM: number,
  heightM: number,
): PlaneJacobian | null {
  const [[x0, y0], [x1, y1], [x2, y2], [x3, y3]] = corners as Quad
  const [rightX, rightY, lowerX, lowerY] = [x1 - x2, y1 - y2, x3 - x2, y3 - y2]
  const [sumX, sumY] = [x0 - x1 - lowerX, y0 - y1 - lowerY]
  const area = rightX * lowerY - lowerX * rightY
  const g = (sumX * lowerY - lowerX * sumY) / area
  const h = (rightX * sumY - sumX * rightY) / area
  const w = 1 + (g + h) / 2
  if (!(Math.min(1, 1 + g, 1 + h, 1 + g + h) > LEAST_DEPTH * Math.abs(w))) return null
  // From the first corner, so that large places cost no digits.
  const [ax, ay] = [(1 + g) * (x1 - x0), (1 + g) * (y1 - y0)]
  const [bx, by] = [(1 + h) * (x3 - x0), (1 + h) * (y3 - y0)]
  const [u, v] = [(ax + bx) / (2 * w), (ay + by) / (2 * w)]
  return {
    alongX: [(ax - u * g) / (w * widthM), (ay - v * g) / (w * widthM)],
    alongY: [(bx - u * h) / (w * heightM), (by - v * h) / (w * heightM)],
  }
}
