import type { Point, Quad } from '../../math/point.js'

/**
 * A side of a quadrilateral as a line: a place is `alongPx` (from the side's first corner) and `acrossPx` (outward positive).
 * The edge itself lies at acrossPx = offset + slope s + bow s^2 with s = alongPx / lengthPx - 1/2.
 */
export interface SideLine {
  readonly from: Point
  /** Unit vectors, px: along the side, and out of the quadrilateral. */
  readonly along: Point
  readonly outward: Point
  readonly lengthPx: number
  /** Least distance of the opposite side's corners, px: how deep the quadrilateral is behind this side. */
  readonly depthPx: number
  readonly offsetPx: number
  readonly slopePx: number
  readonly bowPx: number
}

/** The four sides of a clockwise quadrilateral in the order top, right, bottom, left of the reference, px. */
export function sideLines(corners: Quad): readonly [SideLine, SideLine, SideLine, SideLine] {
  const side = (index: 0 | 1 | 2 | 3): SideLine => {
    const from = corners[index]
    const to = corners[(index + 1) % 4]!
    const lengthPx = Math.hypot(to[0] - from[0], to[1] - from[1])
    const along: Point = [(to[0] - from[0]) / lengthPx, (to[1] - from[1]) / lengthPx]
    const outward: Point = [along[1], -along[0]]
    const depths = [corners[(index + 2) % 4]!, corners[(index + 3) % 4]!].map(
      ([x, y]) => (from[0] - x) * outward[0] + (from[1] - y) * outward[1],
    )
    return { from, along, outward, lengthPx, depthPx: Math.min(...depths), offsetPx: 0, slopePx: 0, bowPx: 0 }
  }
  return [side(0), side(1), side(2), side(3)]
}

/** Where the edge lies across the side at `alongPx`, px. */
export function edgeAcrossPx(line: SideLine, alongPx: number): number {
  const s = alongPx / line.lengthPx - 0.5
  return line.offsetPx + s * (line.slopePx + s * line.bowPx)
}
