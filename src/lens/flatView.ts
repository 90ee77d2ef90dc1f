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
  const places = new PlacesOfView(lens, middle, axis)
  const off = (dx: number, dy: number): Point | null =>
    places.onPlane(middle[0] + dx * HALF_STEP_PX, middle[1] + dy * HALF_STEP_PX)
  const [left, right, above, below] = [off(-1, 0), off(1, 0), off(0, -1), off(0, 1)]
  if (left === null || right === null || above === null || below === null) return null
  places.a = (right[0] - left[0]) / (2 * HALF_STEP_PX)
  places.b = (below[0] - above[0]) / (2 * HALF_STEP_PX)
  places.c = (right[1] - left[1]) / (2 * HALF_STEP_PX)
  places.d = (below[1] - above[1]) / (2 * HALF_STEP_PX)
  return Math.abs(places.determinant) > 0 ? places : null
}

/** The ways between; a class, for functions made anew for each view would be compiled anew for each. `a` to `d`: how the plane changes with the still at the middle, per px. */
class PlacesOfView implements FlatPlaces {
  a = 1
  b = 0
  c = 0
  d = 1
  readonly #lens: CameraLens
  readonly #middle: Point
  readonly #axis: Ray
  readonly #across: Ray
  readonly #down: Ray

  constructor(lens: CameraLens, middle: Point, axis: Ray) {
    this.#lens = lens
    this.#middle = middle
    this.#axis = axis
    this.#across = unit(axis[2] > 0.5 ? [axis[2], 0, -axis[0]] : [axis[1], -axis[0], 0])
    this.#down = cross(axis, this.#across)
  }

  get determinant(): number {
    return this.a * this.d - this.b * this.c
  }

  /** A still's place on the plane a unit away; null where the lens has no image of it or it lies behind. */
  onPlane(x: number, y: number): Point | null {
    const ray = pointToRay(this.#lens, [x, y])
    if (ray === null) return null
    const ahead = dot(ray, this.#axis)
    return ahead > 0 ? [dot(ray, this.#across) / ahead, dot(ray, this.#down) / ahead] : null
  }

  toFlat(x: number, y: number): Point | null {
    const place = this.onPlane(x, y)
    if (place === null) return null
    const [s, t] = place
    const { a, b, c, d, determinant } = this
    return [this.#middle[0] + (d * s - b * t) / determinant, this.#middle[1] + (a * t - c * s) / determinant]
  }

  toStill(x: number, y: number): Point | null {
    const [dx, dy] = [x - this.#middle[0], y - this.#middle[1]]
    const [s, t] = [this.a * dx + this.b * dy, this.c * dx + this.d * dy]
    const [axis, across, down] = [this.#axis, this.#across, this.#down]
    return rayToPoint(this.#lens, [
      axis[0] + s * across[0] + t * down[0],
      axis[1] + s * across[1] + t * down[1],
      axis[2] + s * across[2] + t * down[2],
    ])
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
