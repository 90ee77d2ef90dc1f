import type { SurfacePoint } from './sceneBody.js'
import { layeredNoise } from './valueNoise.js'
import type { WorldVector } from '../camera/worldVector.js'

/** The yard: level ground to the quay's edge; the slip goes on down to the water between its kerbs. Metres. */
const QUAY_EDGE_M = 21.5
const SLIP_HALF_WIDTH_M = 3.4
const WATER_LEVEL_M = -0.9
const SLIP_SLOPE = 0.055
const WATER_LINE_M = QUAY_EDGE_M - WATER_LEVEL_M / SLIP_SLOPE

export type GroundKind = 'yard' | 'slip' | 'water'

/** Where a ray meets the ground, the slip or the water: metres along it, and which; null above the horizon. */
export function groundHit(
  from: WorldVector,
  direction: WorldVector,
): { distanceM: number; kind: GroundKind } | null {
  if (!(direction[2] < -1e-6)) return null
  const level = -from[2] / direction[2]
  if (from[1] + level * direction[1] < QUAY_EDGE_M) return { distanceM: level, kind: 'yard' }
  // The slope z = -(y - edge) slope.
  const slope = (from[2] + (from[1] - QUAY_EDGE_M) * SLIP_SLOPE) / -(direction[2] + direction[1] * SLIP_SLOPE)
  const x = from[0] + slope * direction[0]
  const y = from[1] + slope * direction[1]
  if (slope > 0 && Math.abs(x) < SLIP_HALF_WIDTH_M && y >= QUAY_EDGE_M && y < WATER_LINE_M) {
    return { distanceM: slope, kind: 'slip' }
  }
  return { distanceM: (WATER_LEVEL_M - from[2]) / direction[2], kind: 'water' }
}

/** Colours and normal of the yard or slip at a point. Concrete bays between the kerbs, gravel beyond, weed and wet towards the water. */
export function describeGround(
  kind: GroundKind,
  at: WorldVector,
  footprintM: number,
  out: SurfacePoint,
): void {
  const [x, y] = at
  out.nx = 0
  out.ny = kind === 'slip' ? 0.055 : 0
  out.nz = kind === 'slip' ? 0.9985 : 1
  if (Math.abs(x) > SLIP_HALF_WIDTH_M) {
    const stones = layeredNoise(x * 9, y * 9, 31, 3, footprintM * 9)
    const patches = layeredNoise(x * 0.35, y * 0.35, 37, 3, footprintM * 0.35)
    const level = 0.1 + 0.16 * stones + 0.08 * (patches - 0.5)
    out.red = level * 1.04
    out.green = level
    out.blue = level * 0.9
    if (patches > 0.62) out.green *= 1 + (patches - 0.62) * 1.6
    return
  }
  const broad = layeredNoise(x * 0.5, y * 0.3, 11, 4, footprintM * 0.5)
  const grain = layeredNoise(x * 24, y * 24, 17, 2, footprintM * 24)
  let level = 0.27 + 0.14 * (broad - 0.5) + 0.1 * (grain - 0.5)
  const bayAcross = lineShare(x, 3.4, footprintM)
  const bayAlong = lineShare(y + 0.4, 4.2, footprintM)
  level *= 1 - 0.5 * Math.max(bayAcross, bayAlong)
  // Two worn tracks where cradles roll, and drips of oil.
  const track = Math.exp(-(((Math.abs(x) - 1.15) / 0.2) ** 2))
  level *= 1 - 0.22 * track * (0.6 + 0.4 * broad)
  const drips = layeredNoise(x * 1.1 + 40, y * 0.8, 23, 3, footprintM)
  if (drips > 0.66) level *= 1 - Math.min(0.45, (drips - 0.66) * 4)
  const wet = kind === 'slip' ? Math.min(1, (y - QUAY_EDGE_M) / 13 + 0.4 * (broad - 0.5)) : 0
  const weed = Math.max(0, Math.min(1, wet * 1.4 - 0.5))
  level *= 1 - 0.5 * Math.max(0, wet)
  out.red = level * (1.03 - 0.35 * weed)
  out.green = level * (1 - 0.08 * weed)
  out.blue = level * (0.93 - 0.45 * weed)
}

/** How much of a pixel lies on a joint, of joints 25 mm wide every `everyM`. */
function lineShare(at: number, everyM: number, footprintM: number): number {
  const off = Math.abs(at - Math.round(at / everyM) * everyM)
  const width = Math.max(0.025, footprintM)
  return Math.max(0, Math.min(1, 1 - (off - 0.0125) / width)) * Math.min(1, 0.025 / width + 0.2)
}
