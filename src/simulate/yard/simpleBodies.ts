import { boxSpan, type BodyPaint, type SceneBody } from './sceneBody.js'
import type { WorldVector } from '../camera/worldVector.js'

/** An upright box between two corners, metres. */
export function boxBody(low: WorldVector, high: WorldVector, paint: BodyPaint): SceneBody {
  return {
    low,
    high,
    hit: (from, direction) => {
      const [enter, leave] = boxSpan(low, high, from, direction)
      return enter < leave && enter > 0 ? enter : Infinity
    },
    describe: (at, footprintM, out) => {
      let [axis, sign, least] = [0, 1, Infinity]
      for (let k = 0; k < 3; k += 1) {
        const toLow = Math.abs(at[k]! - low[k]!)
        const toHigh = Math.abs(at[k]! - high[k]!)
        if (Math.min(toLow, toHigh) < least)
          [axis, sign, least] = [k, toLow < toHigh ? -1 : 1, Math.min(toLow, toHigh)]
      }
      out.nx = axis === 0 ? sign : 0
      out.ny = axis === 1 ? sign : 0
      out.nz = axis === 2 ? sign : 0
      paint(at, footprintM, out)
    },
  }
}

/** A ball, metres. */
export function ballBody(centre: WorldVector, radiusM: number, paint: BodyPaint): SceneBody {
  return {
    low: [centre[0] - radiusM, centre[1] - radiusM, centre[2] - radiusM],
    high: [centre[0] + radiusM, centre[1] + radiusM, centre[2] + radiusM],
    hit: (from, direction) => {
      const [x, y, z] = [from[0] - centre[0], from[1] - centre[1], from[2] - centre[2]]
      const b = x * direction[0] + y * direction[1] + z * direction[2]
      const inside = b * b - (x * x + y * y + z * z - radiusM * radiusM)
      const enter = inside > 0 ? -b - Math.sqrt(inside) : -1
      return enter > 0 ? enter : Infinity
    },
    describe: (at, footprintM, out) => {
      out.nx = (at[0] - centre[0]) / radiusM
      out.ny = (at[1] - centre[1]) / radiusM
      out.nz = (at[2] - centre[2]) / radiusM
      paint(at, footprintM, out)
    },
  }
}

/** An upright post of round section, metres; `foot` is the middle of its lower end. It may lean: its top lies at `top`. */
export function postBody(foot: WorldVector, top: WorldVector, radiusM: number, paint: BodyPaint): SceneBody {
  const rise = top[2] - foot[2]
  const leanX = (top[0] - foot[0]) / rise
  const leanY = (top[1] - foot[1]) / rise
  const cap = (at: WorldVector): boolean => Math.abs(at[2] - top[2]) < 1e-6
  return {
    low: [Math.min(foot[0], top[0]) - radiusM, Math.min(foot[1], top[1]) - radiusM, foot[2]],
    high: [Math.max(foot[0], top[0]) + radiusM, Math.max(foot[1], top[1]) + radiusM, top[2]],
    hit: (from, direction) => {
      const height = from[2] - foot[2]
      const x = from[0] - foot[0] - leanX * height
      const y = from[1] - foot[1] - leanY * height
      const dx = direction[0] - leanX * direction[2]
      const dy = direction[1] - leanY * direction[2]
      const a = dx * dx + dy * dy
      const b = x * dx + y * dy
      const inside = b * b - a * (x * x + y * y - radiusM * radiusM)
      if (inside <= 0) return Infinity
      const side = (-b - Math.sqrt(inside)) / a
      const z = from[2] + side * direction[2]
      if (side > 0 && z >= foot[2] && z <= top[2]) return side
      const lid = (top[2] - from[2]) / direction[2]
      const within = lid > 0 && (x + lid * dx) ** 2 + (y + lid * dy) ** 2 < radiusM * radiusM
      return within ? lid : Infinity
    },
    describe: (at, footprintM, out) => {
      const height = at[2] - foot[2]
      const onLid = cap(at)
      out.nx = onLid ? 0 : (at[0] - foot[0] - leanX * height) / radiusM
      out.ny = onLid ? 0 : (at[1] - foot[1] - leanY * height) / radiusM
      out.nz = onLid ? 1 : 0
      paint(at, footprintM, out)
    },
  }
}
