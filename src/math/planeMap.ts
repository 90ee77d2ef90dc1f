import type { Point, Quad } from './point.js'

/** A plane projective map, row by row: x' = (m0 x + m1 y + m2)/(m6 x + m7 y + m8), y' = (m3 x + m4 y + m5)/(same). */
export type PlaneMap = Float64Array

/** Where a map sends a point. */
export function mapPoint(map: PlaneMap, x: number, y: number): Point {
  const w = map[6]! * x + map[7]! * y + map[8]!
  return [(map[0]! * x + map[1]! * y + map[2]!) / w, (map[3]! * x + map[4]! * y + map[5]!) / w]
}

/** The map a after b: x -> a(b(x)). */
export function composeMaps(a: PlaneMap, b: PlaneMap): PlaneMap {
  const out = new Float64Array(9)
  for (let row = 0; row < 3; row += 1) {
    for (let column = 0; column < 3; column += 1) {
      out[3 * row + column] =
        a[3 * row]! * b[column]! + a[3 * row + 1]! * b[3 + column]! + a[3 * row + 2]! * b[6 + column]!
    }
  }
  return out
}

/** The map whose images lie (dx, dy) farther. */
export function movedMap(map: PlaneMap, dx: number, dy: number): PlaneMap {
  return composeMaps(Float64Array.of(1, 0, dx, 0, 1, dy, 0, 0, 1), map)
}

/** The inverse map, or null where there is none. */
export function invertMap(m: PlaneMap): PlaneMap | null {
  const [a, b, c, d, e, f, g, h, i] = m as unknown as [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ]
  const out = Float64Array.of(
    e * i - f * h,
    c * h - b * i,
    b * f - c * e,
    f * g - d * i,
    a * i - c * g,
    c * d - a * f,
    d * h - e * g,
    b * g - a * h,
    a * e - b * d,
  )
  const determinant = a * out[0]! + b * out[3]! + c * out[6]!
  if (!Number.isFinite(determinant) || determinant === 0) return null
  for (let at = 0; at < 9; at += 1) out[at]! /= determinant
  return out
}

/** The map of a level box's corners onto a quad, clockwise from the box's top left. */
export function boxTo(box: LevelBox, quad: Quad): PlaneMap {
  const out = new Float64Array(9)
  writeBoxTo(box, quad[0], quad[1], quad[2], quad[3], out)
  return out
}

/** A level rectangle. */
export interface LevelBox {
  readonly left: number
  readonly top: number
  readonly right: number
  readonly bottom: number
}

/** The same into `out`: the unit square onto the quad (P. Heckbert, MSc thesis, UC Berkeley 1989, section 2.2.2), after the box onto the unit square. */
export function writeBoxTo(box: LevelBox, p0: Point, p1: Point, p2: Point, p3: Point, out: PlaneMap): void {
  const sumX = p0[0] - p1[0] + p2[0] - p3[0]
  const sumY = p0[1] - p1[1] + p2[1] - p3[1]
  const dx1 = p1[0] - p2[0]
  const dy1 = p1[1] - p2[1]
  const dx2 = p3[0] - p2[0]
  const dy2 = p3[1] - p2[1]
  const determinant = dx1 * dy2 - dx2 * dy1
  const width = box.right - box.left
  const height = box.bottom - box.top
  const g = (sumX * dy2 - dx2 * sumY) / determinant
  const h = (dx1 * sumY - sumX * dy1) / determinant
  const a = (p1[0] - p0[0] + g * p1[0]) / width
  const b = (p3[0] - p0[0] + h * p3[0]) / height
  const d = (p1[1] - p0[1] + g * p1[1]) / width
  const e = (p3[1] - p0[1] + h * p3[1]) / height
  out[0] = a
  out[1] = b
  out[2] = p0[0] - a * box.left - b * box.top
  out[3] = d
  out[4] = e
  out[5] = p0[1] - d * box.left - e * box.top
  out[6] = g / width
  out[7] = h / height
  out[8] = 1 - (g / width) * box.left - (h / height) * box.top
}

/** The 2x2 Jacobian of a map at a point, row by row: d(x', y')/d(x, y). */
export function mapJacobian(m: PlaneMap, x: number, y: number): readonly [number, number, number, number] {
  const w = m[6]! * x + m[7]! * y + m[8]!
  const u = (m[0]! * x + m[1]! * y + m[2]!) / w
  const v = (m[3]! * x + m[4]! * y + m[5]!) / w
  return [(m[0]! - u * m[6]!) / w, (m[1]! - u * m[7]!) / w, (m[3]! - v * m[6]!) / w, (m[4]! - v * m[7]!) / w]
}

/** Pixels to a square module at the chart's middle. */
export function areaScale(map: PlaneMap): number {
  const [a, b, c, d] = mapJacobian(map, 7, 5)
  return Math.abs(a * d - b * c)
}
