import { fitHomography } from '../../math/fitHomography.js'
import { jacobianAt, type PlaneJacobian } from '../../math/homography.js'
import type { Point, Quad } from '../../math/point.js'

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

/** The Jacobian, px per metre, at the rectangle's centre of the homography through its corners; null where there is none. */
export function centreJacobian(
  corners: readonly Point[],
  widthM: number,
  heightM: number,
): PlaneJacobian | null {
  const fit = fitHomography(rectangleCorners(widthM, heightM), corners)
  return fit.ok ? jacobianAt(fit.value.homography, 0, 0) : null
}
