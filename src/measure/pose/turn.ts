import type { Ray } from '../../lens/projection.js'

/** A rotation, row by row; its columns are the images of the axes. */
export type Turn = readonly [number, number, number, number, number, number, number, number, number]

/** The vector, turned. */
export function turnBy(t: Turn, [x, y, z]: Ray): Ray {
  return [t[0] * x + t[1] * y + t[2] * z, t[3] * x + t[4] * y + t[5] * z, t[6] * x + t[7] * y + t[8] * z]
}

/** The turn `first`, then `second`. */
export function composeTurns(second: Turn, first: Turn): Turn {
  return turnOfColumns(
    turnBy(second, [first[0], first[3], first[6]]),
    turnBy(second, [first[1], first[4], first[7]]),
    turnBy(second, [first[2], first[5], first[8]]),
  )
}

/** The turn back. */
export function inverseTurn(t: Turn): Turn {
  return [t[0], t[3], t[6], t[1], t[4], t[7], t[2], t[5], t[8]]
}

/** The turn that takes the axes to these unit vectors. */
export function turnOfColumns(x: Ray, y: Ray, z: Ray): Turn {
  return [x[0], y[0], z[0], x[1], y[1], z[1], x[2], y[2], z[2]]
}

/** Vector product. */
export function rayCross(a: Ray, b: Ray): Ray {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

/** Scalar product. */
export function rayDot(a: Ray, b: Ray): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

/** The frame of a ray: z along it, x level to the camera's right, y down. Null where the ray runs along the camera's own x. */
export function rayFrame(ray: Ray): Turn | null {
  const length = Math.hypot(...ray)
  const z: Ray = [ray[0] / length, ray[1] / length, ray[2] / length]
  const level = Math.hypot(z[1], z[2])
  if (!(level > 1e-6)) return null
  const x: Ray = [level, (-z[0] * z[1]) / level, (-z[0] * z[2]) / level]
  return turnOfColumns(x, rayCross(z, x), z)
}

/** The turn about the axis (x, y, z) by its length in radians, right-handed (Rodrigues). */
export function turnAbout(x: number, y: number, z: number): Turn {
  const angleRad = Math.hypot(x, y, z)
  if (angleRad === 0) return [1, 0, 0, 0, 1, 0, 0, 0, 1]
  const [a, b, c] = [x / angleRad, y / angleRad, z / angleRad]
  const cos = Math.cos(angleRad)
  const sin = Math.sin(angleRad)
  const rest = 1 - cos
  return [
    cos + a * a * rest,
    a * b * rest - c * sin,
    a * c * rest + b * sin,
    a * b * rest + c * sin,
    cos + b * b * rest,
    b * c * rest - a * sin,
    a * c * rest - b * sin,
    b * c * rest + a * sin,
    cos + c * c * rest,
  ]
}
