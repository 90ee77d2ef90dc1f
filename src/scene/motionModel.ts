import type { CameraLens } from '../lens/cameraLens.js'
import { pointToRay, type Ray, rayToPoint } from '../lens/projection.js'
import type { Point } from '../math/point.js'

/** So many numbers say how one still lies against another. */
export const PARAMETERS = 4

/** How a still's places go over into another still's. Parameters of no movement are zero. */
export interface MotionModel {
  /** The place in the other still, px, of what lies at the match's place in the one; null where the lens has no image of it. */
  at(index: number, parameters: ArrayLike<number>): Point | null
  /** The same of the middle of the still. */
  middle(parameters: ArrayLike<number>): Point | null
  /** Parameters near those of a mere shift of the middle (px), a turn of the picture (radians, clockwise) and the logarithm of a scale. */
  near(shiftX: number, shiftY: number, roll: number, logScale: number): number[]
}

/** Shift (px, right and down), turn of the picture about its middle (radians, clockwise) and logarithm of the scale: what is told where no lens is known. */
export function shiftModel(points: readonly number[], middle: Point): MotionModel {
  const placed = (x: number, y: number, [dx, dy, roll, log]: ArrayLike<number> & Iterable<number>): Point => {
    const scale = Math.exp(log!)
    const [cos, sin] = [scale * Math.cos(roll!), scale * Math.sin(roll!)]
    const [a, b] = [x - middle[0], y - middle[1]]
    return [middle[0] + dx! + cos * a - sin * b, middle[1] + dy! + sin * a + cos * b]
  }
  type Parameters = ArrayLike<number> & Iterable<number>
  return {
    at: (index, parameters) => placed(points[4 * index]!, points[4 * index + 1]!, parameters as Parameters),
    middle: (parameters) => placed(...middle, parameters as Parameters),
    near: (...parameters) => parameters,
  }
}

/**
 * A camera that turned where it stands, through its lens: the vector about which what it sees turns (radians; x right, y down, z ahead, so that a camera that pans to the right
 * has y negative, one that tilts down x positive, one that rolls clockwise z negative), and the logarithm of its zoom.
 */
export function turnModel(points: readonly number[], lens: CameraLens): MotionModel {
  const rays = Array.from({ length: points.length / 4 }, (_, i) =>
    pointToRay(lens, [points[4 * i]!, points[4 * i + 1]!]),
  )
  let [zoomed, log] = [lens, 0]
  const placed = (ray: Ray | null, parameters: ArrayLike<number>): Point | null => {
    if (ray === null) return null
    if (parameters[3] !== log) {
      log = parameters[3]!
      zoomed = { ...lens, pixelsPerRadian: lens.pixelsPerRadian * Math.exp(log) }
    }
    return rayToPoint(zoomed, turned(ray, parameters[0]!, parameters[1]!, parameters[2]!))
  }
  const perPx = 1 / lens.pixelsPerRadian
  return {
    at: (index, parameters) => placed(rays[index]!, parameters),
    middle: (parameters) => placed([0, 0, 1], parameters),
    near: (x, y, roll, logScale) => [0 - y * perPx, x * perPx, roll, logScale],
  }
}

/** A ray turned about a vector by its length, radians (O. Rodrigues). */
function turned([x, y, z]: Ray, a: number, b: number, c: number): Ray {
  const angle = Math.hypot(a, b, c)
  if (angle === 0) return [x, y, z]
  const [u, v, w] = [a / angle, b / angle, c / angle]
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)]
  const along = (u * x + v * y + w * z) * (1 - cos)
  return [
    x * cos + (v * z - w * y) * sin + u * along,
    y * cos + (w * x - u * z) * sin + v * along,
    z * cos + (u * y - v * x) * sin + w * along,
  ]
}
