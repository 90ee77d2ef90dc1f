import type { Ray } from '../../lens/projection.js'
import { fitHomography } from '../../math/fitHomography.js'
import type { Homography } from '../../math/homography.js'
import type { Point, Quad } from '../../math/point.js'
import { inverseTurn, turnBy, type Turn } from './turn.js'

/** The sum of rays: the direction of their middle. */
export function meanRay(rays: readonly Ray[]): Ray {
  const sum = (i: 0 | 1 | 2): number => rays.reduce((total, ray) => total + ray[i], 0)
  return [sum(0), sum(1), sum(2)]
}

/** The homography from a reference's plane to the plane at unit distance square to the frame's ray; null where there is none. */
export function homographyIn(frame: Turn, rays: readonly Ray[], plane: Quad): Homography | null {
  const image: Point[] = []
  for (const ray of rays) {
    const [x, y, z] = turnBy(inverseTurn(frame), ray)
    if (!(z > 0)) return null
    image.push([x / z, y / z])
  }
  const fit = fitHomography(plane, image)
  return fit.ok ? fit.value.homography : null
}
