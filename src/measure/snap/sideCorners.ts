import { inverse, Matrix } from 'ml-matrix'
import type { Point, Quad } from '../../math/point.js'
import { edgeAcrossPx, type SideLine } from '../edge/sideLine.js'

/** Corners where four side lines meet, and how they move with the lines. */
export interface SideCorners {
  readonly corners: Quad
  /** px^2, x1, y1 ... y4. */
  readonly covariancePx2: readonly (readonly number[])[]
}

type FourSides = readonly [SideLine, SideLine, SideLine, SideLine]

/**
 * Where each side meets the one before it, bowed as they are, by Newton's rule. `covariances` are those of each side's offset, slope and bow (px^2); `outwardU` (px)
 * is one more standard deviation that all sides move outward together by. Null where two sides meet nowhere near.
 */
export function sideCorners(
  sides: FourSides,
  covariances: readonly (readonly (readonly number[])[])[],
  outwardU: number,
): SideCorners | null {
  const corners: Point[] = []
  const jacobian = Matrix.zeros(8, 12)
  for (let corner = 0; corner < 4; corner += 1) {
    const [before, after] = [sides[(corner + 3) % 4]!, sides[corner]!]
    const at = meetingPoint(before, after)
    if (at === null) return null
    corners.push(at)
    // the corner moves so that it stays on both edges: normals (corner) = shifts of the edges there
    const normals = new Matrix([[...edgeNormal(before, at)], [...edgeNormal(after, at)]])
    let solve: Matrix
    try {
      solve = inverse(normals)
    } catch {
      return null
    }
    for (const [row, side] of [
      [0, (corner + 3) % 4],
      [1, corner],
    ] as const) {
      const place = placeAlong(sides[side]!, at)
      for (const [k, weight] of [1, place, place * place].entries()) {
        jacobian.set(2 * corner, 3 * side + k, solve.get(0, row) * weight)
        jacobian.set(2 * corner + 1, 3 * side + k, solve.get(1, row) * weight)
      }
    }
  }
  const parameters = Matrix.zeros(12, 12)
  for (let side = 0; side < 4; side += 1) {
    for (let i = 0; i < 3; i += 1) {
      for (let j = 0; j < 3; j += 1) {
        parameters.set(3 * side + i, 3 * side + j, covariances[side]![i]![j]!)
      }
    }
  }
  for (let a = 0; a < 4; a += 1) {
    for (let b = 0; b < 4; b += 1) parameters.set(3 * a, 3 * b, parameters.get(3 * a, 3 * b) + outwardU ** 2)
  }
  const covariance = jacobian.mmul(parameters).mmul(jacobian.transpose())
  const [first, second, third, fourth] = corners
  return {
    corners: [first!, second!, third!, fourth!],
    covariancePx2: covariance
      .to2DArray()
      .map((row, i) => row.map((value, j) => (value + covariance.get(j, i)) / 2)),
  }
}

function placeAlong({ from, along, lengthPx }: SideLine, [x, y]: Point): number {
  return ((x - from[0]) * along[0] + (y - from[1]) * along[1]) / lengthPx - 0.5
}

/** How far a point lies outward of a side's edge, px. */
function beyondEdge(side: SideLine, [x, y]: Point): number {
  const across = (x - side.from[0]) * side.outward[0] + (y - side.from[1]) * side.outward[1]
  return across - edgeAcrossPx(side, (placeAlong(side, [x, y]) + 0.5) * side.lengthPx)
}

/** The gradient of {@link beyondEdge}. */
function edgeNormal(side: SideLine, at: Point): Point {
  const turn = (side.slopePx + 2 * side.bowPx * placeAlong(side, at)) / side.lengthPx
  return [side.outward[0] - turn * side.along[0], side.outward[1] - turn * side.along[1]]
}

function meetingPoint(before: SideLine, after: SideLine): Point | null {
  let at: Point = after.from
  for (let step = 0; step < 12; step += 1) {
    const [a, b] = [edgeNormal(before, at), edgeNormal(after, at)]
    const determinant = a[0] * b[1] - a[1] * b[0]
    if (!(Math.abs(determinant) > 0.05)) return null
    const [u, v] = [beyondEdge(before, at), beyondEdge(after, at)]
    const [dx, dy] = [(u * b[1] - v * a[1]) / determinant, (v * a[0] - u * b[0]) / determinant]
    at = [at[0] - dx, at[1] - dy]
    if (Math.hypot(dx, dy) < 1e-7) return at
  }
  return Number.isFinite(at[0] + at[1]) &&
    Math.hypot(at[0] - after.from[0], at[1] - after.from[1]) < after.lengthPx
    ? at
    : null
}
