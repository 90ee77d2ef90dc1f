import { projectToImage, type CameraStation } from '../camera/cameraStation.js'
import type { SceneBody } from './sceneBody.js'

/** A rectangle of the picture, px, ends excluded. */
export interface Bounds {
  readonly left: number
  readonly top: number
  readonly right: number
  readonly bottom: number
}

const EDGE_STEPS = 8

/** The part of the picture in which a body can be seen: its box's edges projected, with a margin for their bend between. */
export function bodyBounds(station: CameraStation, body: SceneBody): Bounds {
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity]
  for (let axis = 0; axis < 3; axis += 1) {
    for (let corner = 0; corner < 4; corner += 1) {
      for (let step = 0; step <= EDGE_STEPS; step += 1) {
        const shares = [0, 0, 0]
        shares[axis] = step / EDGE_STEPS
        shares[(axis + 1) % 3] = corner & 1
        shares[(axis + 2) % 3] = corner >> 1
        const point = projectToImage(station, [
          body.low[0] + shares[0]! * (body.high[0] - body.low[0]),
          body.low[1] + shares[1]! * (body.high[1] - body.low[1]),
          body.low[2] + shares[2]! * (body.high[2] - body.low[2]),
        ])
        if (point === null) continue
        left = Math.min(left, point[0])
        right = Math.max(right, point[0])
        top = Math.min(top, point[1])
        bottom = Math.max(bottom, point[1])
      }
    }
  }
  const margin = 3
  return {
    left: Math.floor(left) - margin,
    top: Math.floor(top) - margin,
    right: Math.ceil(right) + margin,
    bottom: Math.ceil(bottom) + margin,
  }
}
