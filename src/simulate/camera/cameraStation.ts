import type { CameraLens } from '../../lens/cameraLens.js'
import { pointToRay, rayToPoint } from '../../lens/projection.js'
import type { Point } from '../../math/point.js'
import type { WorldVector } from './worldVector.js'

/** A fixed camera in the scene: at (0, 0, mountHeightM), looking along +y, turned to the right by `panRad` (0 unless given) and tilted down by `tiltRad`, level. Its image is `width` x `height` px. */
export interface CameraStation {
  readonly width: number
  readonly height: number
  readonly lens: CameraLens
  readonly mountHeightM: number
  readonly tiltRad: number
  readonly panRad?: number
}

/** The image point, px, of a scene point (metres); null where the lens has no image of it. */
export function projectToImage(station: CameraStation, at: WorldVector): Point | null {
  const cos = Math.cos(station.tiltRad)
  const sin = Math.sin(station.tiltRad)
  const up = at[2] - station.mountHeightM
  const [across, ahead] = turned([at[0], at[1]], station.panRad ?? 0)
  return rayToPoint(station.lens, [across, -sin * ahead - cos * up, cos * ahead - sin * up])
}

/** The unit direction in the scene that is seen at an image point, px; null outside the lens' image. */
export function viewDirection(station: CameraStation, point: Point): WorldVector | null {
  const ray = pointToRay(station.lens, point)
  if (ray === null) return null
  const cos = Math.cos(station.tiltRad)
  const sin = Math.sin(station.tiltRad)
  const [across, ahead] = turned([ray[0], cos * ray[2] - sin * ray[1]], -(station.panRad ?? 0))
  return [across, ahead, -sin * ray[2] - cos * ray[1]]
}

/** Where a camera that turned to the right by so much has what lies across and ahead. */
function turned([across, ahead]: Point, byRad: number): Point {
  if (byRad === 0) return [across, ahead]
  const [cos, sin] = [Math.cos(byRad), Math.sin(byRad)]
  return [cos * across - sin * ahead, sin * across + cos * ahead]
}

/** Where the camera stands: its entrance pupil, metres. */
export function stationPosition(station: CameraStation): WorldVector {
  return [0, 0, station.mountHeightM]
}
