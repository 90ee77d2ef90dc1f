import type { Point, Quad } from '../../src/math/point.js'

/**
 * A rectangle in front of a lens, worked out from scratch: own rotations, own projection formulas, so that it can be held
 * against the code under test. Metres, degrees, px; the ray to the centre is `bearingDeg` to the right and `downDeg` below the axis.
 */
export interface Scene {
  readonly p: number
  readonly pixelsPerRadian: number
  readonly width: number
  readonly height: number
  readonly widthM: number
  readonly heightM: number
  readonly distanceM: number
  readonly bearingDeg?: number
  readonly downDeg?: number
  readonly yawDeg?: number
  readonly pitchDeg?: number
  readonly rollDeg?: number
}

type Vector = [number, number, number]

/** Corners and, by a difference of a tenth of a millimetre about the centre, the true density along both axes, px/m. */
export function seenRectangle(scene: Scene): { corners: Quad; horizontal: number; vertical: number } {
  const at = (x: number, y: number): Point => imageOf(scene, x, y)
  const [w, h] = [scene.widthM / 2, scene.heightM / 2]
  const s = 5e-5
  const span = (a: Point, b: Point): number => Math.hypot(b[0] - a[0], b[1] - a[1]) / (2 * s)
  return {
    corners: [at(-w, -h), at(w, -h), at(w, h), at(-w, h)],
    horizontal: span(at(-s, 0), at(s, 0)),
    vertical: span(at(0, -s), at(0, s)),
  }
}

/** r/f of the five named projections, each by its own textbook formula. */
export function namedRadius(p: number, angle: number): number {
  if (p === 1) return Math.tan(angle)
  if (p === 0.5) return 2 * Math.tan(angle / 2)
  if (p === 0) return angle
  if (p === -0.5) return 2 * Math.sin(angle / 2)
  if (p === -1) return Math.sin(angle)
  throw new Error(`no named projection has p = ${p}`)
}

function imageOf(scene: Scene, x: number, y: number): Point {
  const radians = (degrees = 0): number => (degrees * Math.PI) / 180
  // On the reference: x right, y down. Rolled clockwise about its normal, its top leaned away by pitch, its right side brought nearer by yaw.
  let v: Vector = [x, y, 0]
  v = plane(v, 0, 1, radians(scene.rollDeg))
  v = plane(v, 2, 1, radians(scene.pitchDeg))
  v = plane(v, 2, 0, radians(scene.yawDeg))
  v = [v[0], v[1], v[2] + scene.distanceM]
  // The frame of the ray, x level: down first, then about the camera's own upright.
  const bearing = radians(scene.bearingDeg)
  const down = radians(scene.downDeg)
  const ray: Vector = [
    Math.sin(bearing),
    Math.sin(down) * Math.cos(bearing),
    Math.cos(down) * Math.cos(bearing),
  ]
  const level = Math.hypot(ray[1], ray[2])
  const right: Vector = [level, (-ray[0] * ray[1]) / level, (-ray[0] * ray[2]) / level]
  const below: Vector = [0, ray[2] / level, -ray[1] / level]
  const seen = [0, 1, 2].map((i) => v[0] * right[i]! + v[1] * below[i]! + v[2] * ray[i]!) as Vector
  const off = Math.hypot(seen[0], seen[1])
  const radius = scene.pixelsPerRadian * namedRadius(scene.p, Math.atan2(off, seen[2]))
  const share = off === 0 ? 0 : radius / off
  return [scene.width / 2 + seen[0] * share, scene.height / 2 + seen[1] * share]
}

/** Rotates axis i towards axis j. */
function plane(v: Vector, i: 0 | 1 | 2, j: 0 | 1 | 2, angle: number): Vector {
  const out: Vector = [...v]
  out[i] = v[i] * Math.cos(angle) - v[j] * Math.sin(angle)
  out[j] = v[i] * Math.sin(angle) + v[j] * Math.cos(angle)
  return out
}
