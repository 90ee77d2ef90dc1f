import { boxSpan, type BodyPaint, type SceneBody } from './sceneBody.js'
import type { WorldVector } from '../camera/worldVector.js'
import { power } from '../../math/power.js'

/** A boat's hull: its stern's keel end on the middle line, which way its bow points, and its sizes, metres. */
export interface HullShape {
  readonly stern: WorldVector
  /** Turn of the bow about the upright, radians; 0 points along +y, away from the camera. */
  readonly headingRad: number
  readonly lengthM: number
  readonly beamM: number
  /** From keel to sheer amidships. */
  readonly depthM: number
}

/** Steps of the march through the hull's box before the crossing is bisected. */
const MARCH_STEPS = 32
const BISECTIONS = 10
/** Stations along the hull at which its lines are tabulated. */
const STATIONS = 128

/** A hull of round bilge with raking stem, sheer and transom. Paint is asked with points of the scene. */
export function hullBody(shape: HullShape, paint: BodyPaint): SceneBody {
  const [cos, sin] = [Math.cos(shape.headingRad), Math.sin(shape.headingRad)]
  const { stern, lengthM, beamM, depthM } = shape
  const outside = hullLines(lengthM, beamM, depthM)
  const toLocal = (x: number, y: number, z: number): [number, number, number] => [
    x * cos - y * sin,
    x * sin + y * cos,
    z,
  ]
  const corners = [-beamM / 2, beamM / 2].flatMap((x) =>
    [0, lengthM].map((y) => [stern[0] + x * cos + y * sin, stern[1] - x * sin + y * cos] as const),
  )
  const low: WorldVector = [
    Math.min(...corners.map((c) => c[0])),
    Math.min(...corners.map((c) => c[1])),
    stern[2],
  ]
  const high: WorldVector = [
    Math.max(...corners.map((c) => c[0])),
    Math.max(...corners.map((c) => c[1])),
    stern[2] + depthM * 1.22,
  ]
  const localLow: WorldVector = [-beamM / 2, 0, 0]
  const localHigh: WorldVector = [beamM / 2, lengthM, depthM * 1.22]
  return {
    low,
    high,
    hit: (from, direction) => {
      const [worldEnter, worldLeave] = boxSpan(low, high, from, direction)
      if (!(worldEnter < worldLeave)) return Infinity
      const o = toLocal(from[0] - stern[0], from[1] - stern[1], from[2] - stern[2])
      const d = toLocal(direction[0], direction[1], direction[2])
      const [enter, leave] = boxSpan(localLow, localHigh, o, d)
      if (!(enter < leave)) return Infinity
      let before = enter
      for (let step = 1; step <= MARCH_STEPS; step += 1) {
        let after = enter + ((leave - enter) * (step - 0.01)) / MARCH_STEPS
        if (outside(o[0] + after * d[0], o[1] + after * d[1], o[2] + after * d[2]) >= 0) {
          before = after
          continue
        }
        for (let k = 0; k < BISECTIONS; k += 1) {
          const s = (before + after) / 2
          if (outside(o[0] + s * d[0], o[1] + s * d[1], o[2] + s * d[2]) < 0) after = s
          else before = s
        }
        return before
      }
      return Infinity
    },
    describe: (point, footprintM, out) => {
      const [x, y, z] = toLocal(point[0] - stern[0], point[1] - stern[1], point[2] - stern[2])
      const step = 0.02
      const clamp = (v: number): number => Math.max(-0.2, Math.min(0.2, v))
      const nx = clamp(outside(x + step, y, z)) - clamp(outside(x - step, y, z))
      const ny = clamp(outside(x, y + step, z)) - clamp(outside(x, y - step, z))
      const nz = clamp(outside(x, y, z + step)) - clamp(outside(x, y, z - step))
      const length = Math.hypot(nx, ny, nz) || 1
      out.nx = (nx * cos + ny * sin) / length
      out.ny = (-nx * sin + ny * cos) / length
      out.nz = nz / length
      paint(point, footprintM, out)
    },
  }
}

/** The hull's lines as a function of its own coordinates (x across from the middle, y from the stern, z from the keel), below 0 inside. */
function hullLines(
  lengthM: number,
  beamM: number,
  depthM: number,
): (x: number, y: number, z: number) => number {
  const stations = Array.from({ length: STATIONS + 2 }, (_, index) => {
    const s = index / STATIONS
    const stem = Math.max(0, (s - 0.72) / 0.28)
    const aft = ((0.45 - s) / 0.45) ** 2
    return {
      keel: depthM * 0.75 * power(stem, 2.2),
      sheer: depthM * (1 + 0.28 * power(Math.max(0, s - 0.35), 1.6) + 0.06 * (1 - s)),
      half: (beamM / 2) * (s < 0.45 ? 0.8 + 0.2 * (1 - aft) : Math.max(0, 1 - power((s - 0.45) / 0.55, 2.6))),
      fullness: 0.38 + 0.75 * stem,
    }
  })
  const table = (pick: (station: (typeof stations)[number]) => number): Float64Array =>
    Float64Array.from(stations, pick)
  const keels = table((at) => at.keel)
  const sheers = table((at) => at.sheer)
  const halves = table((at) => at.half)
  const fullnesses = table((at) => at.fullness)
  return (x, y, z) => {
    const station = (y / lengthM) * STATIONS
    if (!(station >= 0 && station <= STATIONS)) return 1
    const index = Math.floor(station)
    const t = station - index
    const sheer = sheers[index]! * (1 - t) + sheers[index + 1]! * t
    if (z > sheer) return z - sheer
    const keel = keels[index]! * (1 - t) + keels[index + 1]! * t
    if (z < keel) return keel - z
    const half = halves[index]! * (1 - t) + halves[index + 1]! * t
    const across = Math.abs(x)
    if (across >= half) return across - half
    const h = (z - keel) / (sheer - keel)
    return across - half * power(h, fullnesses[index]!) * (0.9 + 0.1 * h)
  }
}
