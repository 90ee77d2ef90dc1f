import type { PlaneJacobian } from '../math/homography.js'

/** The larger singular value of a 2 x 2 Jacobian: the most image units any direction of the plane gets. */
export function greatestStretch({ alongX: [a, c], alongY: [b, d] }: PlaneJacobian): number {
  return (Math.hypot(a + d, c - b) + Math.hypot(a - d, c + b)) / 2
}
