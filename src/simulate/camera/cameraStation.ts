import type { CameraLens } from '../../lens/cameraLens.js'
import { pointToRay, rayToPoint } from '../../lens/projection.js'
import type { Point } from '../../math/point.js'
import type { WorldVector } from './worldVector.js'

/** A fixed camera in the scene: at (0, 0, mountHeightM), looking along +y, tilted down by `tiltRad`, level. Its image is `width` x `height` px. */
export interface CameraStation {
  readonly width: number
  readonly height: number
  readonly lens: CameraLens
  readonly mountHeightM: number
  readonly tiltRad: number
}

/** The image point, px, of a scene point (metres); null where the lens has no image of it. */
export function projectToImage(station: CameraStation, at: WorldVector): Point | null {
  const cos = Math.cos(station.tiltRad)
  const sin = Math.sin(station.tiltRad)
  const up = at[2] - station.mountHeightM
  return rayToPoint(station.lens, [at[0], -sin * at[1] - cos * up, cos * at[1] - sin * up])
}

/** The unit direction in the scene that is seen at an image point, px; null outside the lens' image. */
export function viewDirection(station: CameraStation, point: Point): WorldVector | null {
  const ray = pointToRay(station.lens, point)
  if (ray === null) return null
  const cos = Math.cos(station.tiltRad)
  const sin = Math.sin(station.tiltRad)
  return [ray[0], cos * ray[2] - sin * ray[1], -sin * ray[2] - cos * ray[1]]
}

/** Where the camera stands: its entrance pupil, metres. */
export function stationPosition(station: CameraStation): WorldVector {
  return [0, 0, station.mountHeightM]
}
