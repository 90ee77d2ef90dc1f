import type { WorldVector } from '../camera/worldVector.js'

/** What is seen at a point of the scene: the outward unit normal and how much of each colour's light it throws back, 0..1. */
export interface SurfacePoint {
  nx: number
  ny: number
  nz: number
  red: number
  green: number
  blue: number
}

/** A solid thing in the scene. */
export interface SceneBody {
  /** An upright box around it, metres. */
  readonly low: WorldVector
  readonly high: WorldVector
  /** Metres along the ray (unit direction) to where it enters the body, Infinity where it misses. */
  hit(from: WorldVector, direction: WorldVector): number
  /** Describes the surface at a point on it. `footprintM`: width of a pixel there. */
  describe(at: WorldVector, footprintM: number, out: SurfacePoint): void
}

/** Paints a point of a body: sets the three colours of `out`, whose normal is set already. */
export type BodyPaint = (at: WorldVector, footprintM: number, out: SurfacePoint) => void

/** A paint of one even colour with faint wear. */
export function plainPaint(red: number, green: number, blue: number): BodyPaint {
  return (_at, _footprintM, out) => {
    out.red = red
    out.green = green
    out.blue = blue
  }
}

/** Where a ray enters and leaves an upright box, metres along it; enter > leave where it misses. */
export function boxSpan(
  low: WorldVector,
  high: WorldVector,
  from: WorldVector,
  direction: WorldVector,
): readonly [enter: number, leave: number] {
  let [enter, leave] = [0, Infinity]
  for (let axis = 0; axis < 3; axis += 1) {
    const d = direction[axis]!
    const a = (low[axis]! - from[axis]!) / d
    const b = (high[axis]! - from[axis]!) / d
    enter = Math.max(enter, Math.min(a, b))
    leave = Math.min(leave, Math.max(a, b))
  }
  return [enter, leave]
}
