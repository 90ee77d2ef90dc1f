/** A point or direction in the scene, metres: x right, y away from the camera along the ground, z up; the origin lies on the ground below the camera. */
export type WorldVector = readonly [x: number, y: number, z: number]

/** a + s b. */
export function along(a: WorldVector, b: WorldVector, s: number): WorldVector {
  return [a[0] + s * b[0], a[1] + s * b[1], a[2] + s * b[2]]
}

/** Scalar product. */
export function dot(a: WorldVector, b: WorldVector): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

/** Vector product. */
export function cross(a: WorldVector, b: WorldVector): WorldVector {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

/** The vector scaled to unit length. */
export function unit(a: WorldVector): WorldVector {
  const length = Math.hypot(a[0], a[1], a[2])
  return [a[0] / length, a[1] / length, a[2] / length]
}
