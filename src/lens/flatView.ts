import type { Point } from '../math/point.js'
import type { CameraLens } from './cameraLens.js'
import { pointToRay, rayToPoint, type Ray } from './projection.js'

/**
 * A still seen through its lens onto the plane square to the ray of one image point, as large there as in the still: straight lines are straight in it, and
 * around `middle` (px) it is the still itself to first order.
 */
export interface FlatView {
  readonly lens: CameraLens
  readonly middle: Point
}

/** The two ways of a flat view; both px, null where the lens has no image. */
export interface FlatPlaces {
  toFlat(x: number, y: number): Point | null
  toStill(x: number, y: number): Point | null
}

/** Half the step of the central differences at the middle, px. */
const HALF_STEP_PX = 1e-3

/** How places of a still and of its flat view go over into one another; null where the lens has no image at the middle. */
export function flatPlaces({ lens, middle }: FlatView): FlatPlaces | null {
  const axis = pointToRay(lens, middle)
  if (axis === null) return null
  const across = unit(axis[2] > 0.5 ? [axis[2], 0, -axis[0]] : [axis[1], -axis[0], 0])
  const down = cross(axis, across)
  const onPlane = (x: number, y: number): Point | null => {
    const ray = pointToRay(lens, [x, y])
    if (ray === null) return null
    const ahead = dot(ray, axis)
    return ahead > 0 ? [dot(ray, across) / ahead, dot(ray, down) / ahead] : null
  }
  const [left, right] = [
    onPlane(middle[0] - HALF_STEP_PX, middle[1]),
    onPlane(middle[0] + HALF_STEP_PX, middle[1]),
  ]
  const [above, below] = [
    onPlane(middle[0], middle[1] - HALF_STEP_PX),
    onPlane(middle[0], middle[1] + HALF_STEP_PX),
  ]
  if (left === null || right === null || above === null || below === null) return null
  const [a, c] = [(right[0] - left[0]) / (2 * HALF_STEP_PX), (right[1] - left[1]) / (2 * HALF_STEP_PX)]
  const [b, d] = [(below[0] - above[0]) / (2 * HALF_STEP_PX), (below[1] - above[1]) / (2 * HALF_STEP_PX)]
  const determinant = a * d - b * c
  if (!(Math.abs(determinant) > 0)) return null
  return {
    toFlat(x, y) {
      const place = onPlane(x, y)
      if (place === null) return null
      const [s, t] = place
      return [middle[0] + (d * s - b * t) / determinant, middle[1] + (a * t - c * s) / determinant]
    },
    toStill(x, y) {
      const [dx, dy] = [x - middle[0], y - middle[1]]
      const [s, t] = [a * dx + b * dy, c * dx + d * dy]
      return rayToPoint(lens, [
        axis[0] + s * across[0] + t * down[0],
        axis[1] + s * across[1] + t * down[1],
        axis[2] + s * across[2] + t * down[2],
      ])
    },
  }
}

function unit([x, y, z]: Ray): Ray {
  const length = Math.hypot(x, y, z)
  return [x / length, y / length, z / length]
}

function dot(a: Ray, b: Ray): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

function cross(a: Ray, b: Ray): Ray {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}
