import type { Point, Quad } from '../math/point.js'

/** Twice the signed area of a triangle; positive where a, b, c run clockwise as seen (y down). */
function turn(a: Point, b: Point, c: Point): number {
  return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
}

/** The convex hull of points, clockwise as seen (A. Andrew, Inf. Proc. Letters 9 (1979) 216). */
export function convexHull(points: readonly Point[]): Point[] {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1])
  const half = (list: readonly Point[]): Point[] => {
    const chain: Point[] = []
    for (const point of list) {
      while (chain.length >= 2 && turn(chain[chain.length - 2]!, chain[chain.length - 1]!, point) <= 0)
        chain.pop()
      chain.push(point)
    }
    chain.pop()
    return chain
  }
  return [...half(sorted), ...half(sorted.reverse())]
}

/**
 * The quad that best stands for an outline: sides of the hull are taken away one at a time, each time the one whose removal, its
 * neighbours prolonged to where they meet, adds the least area, until four are left. It encloses the outline, so that a corner
 * that noise or blur has rounded off comes back. Null where that cannot be done.
 */
export function outlineQuad(outline: readonly Point[]): Quad | null {
  const hull = convexHull(outline)
  while (hull.length > 4) {
    let best = -1
    let bestArea = Infinity
    let bestPoint: Point | null = null
    for (let side = 0; side < hull.length; side += 1) {
      const [a, b, c, d] = [0, 1, 2, 3].map((step) => hull[(side + step) % hull.length]!) as [
        Point,
        Point,
        Point,
        Point,
      ]
      const meeting = meet(a, b, d, c)
      if (meeting === null) continue
      const area = turn(b, meeting, c)
      if (area >= 0 && area < bestArea) {
        bestArea = area
        best = side
        bestPoint = meeting
      }
    }
    if (bestPoint === null) return null
    const first = (best + 1) % hull.length
    const second = (best + 2) % hull.length
    hull[first] = bestPoint
    hull.splice(second, 1)
  }
  return hull.length === 4 ? (hull as unknown as Quad) : null
}

/** Where a -> b and d -> c, both prolonged forwards, meet; null where they do not. */
function meet(a: Point, b: Point, d: Point, c: Point): Point | null {
  const ux = b[0] - a[0]
  const uy = b[1] - a[1]
  const vx = c[0] - d[0]
  const vy = c[1] - d[1]
  const cross = ux * vy - uy * vx
  if (Math.abs(cross) < 1e-12) return null
  const s = ((d[0] - a[0]) * vy - (d[1] - a[1]) * vx) / cross
  const t = ((d[0] - a[0]) * uy - (d[1] - a[1]) * ux) / cross
  if (s < 1 || t < 1) return null
  return [a[0] + s * ux, a[1] + s * uy]
}
