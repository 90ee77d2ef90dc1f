import type { Quad } from '../../math/point.js'
import type { DarkPieces } from './darkPieces.js'

/** The hull of an outline while it is reduced: points clockwise as seen. */
export interface HullBuffer {
  x: Float64Array
  y: Float64Array
}

/**
 * The quad that best stands for a piece's outline (rows' middles; columns at the pixels' outer sides): sides of its convex hull are taken
 * away one at a time, each time the one whose removal, its neighbours prolonged to where they meet, adds the least area, until four are left.
 * It encloses the outline, so that a corner that noise or blur has rounded off comes back. Null where that cannot be done. `buffer` is
 * written over.
 */
export function outlineQuad(pieces: DarkPieces, piece: number, buffer: HullBuffer): Quad | null {
  const needed = 2 * pieces.rows[piece]!
  if (buffer.x.length < needed) {
    buffer.x = new Float64Array(2 * needed)
    buffer.y = new Float64Array(2 * needed)
  }
  const { x, y } = buffer
  let count = writeHull(pieces, piece, x, y)
  while (count > 4) {
    let best = -1
    let bestArea = Infinity
    let bestX = 0
    let bestY = 0
    for (let side = 0; side < count; side += 1) {
      const b = side + 1 < count ? side + 1 : 0
      const c = b + 1 < count ? b + 1 : 0
      const d = c + 1 < count ? c + 1 : 0
      // Where a -> b and d -> c, both prolonged forwards, meet.
      const ux = x[b]! - x[side]!
      const uy = y[b]! - y[side]!
      const vx = x[c]! - x[d]!
      const vy = y[c]! - y[d]!
      const cross = ux * vy - uy * vx
      if (Math.abs(cross) < 1e-12) continue
      const dx = x[d]! - x[side]!
      const dy = y[d]! - y[side]!
      const s = (dx * vy - dy * vx) / cross
      const t = (dx * uy - dy * ux) / cross
      if (s < 1 || t < 1) continue
      const meetX = x[side]! + s * ux
      const meetY = y[side]! + s * uy
      const area = (meetX - x[b]!) * (y[c]! - y[b]!) - (meetY - y[b]!) * (x[c]! - x[b]!)
      if (area >= 0 && area < bestArea) {
        bestArea = area
        best = side
        bestX = meetX
        bestY = meetY
      }
    }
    if (best === -1) return null
    const b = (best + 1) % count
    const c = (best + 2) % count
    x[b] = bestX
    y[b] = bestY
    x.copyWithin(c, c + 1, count)
    y.copyWithin(c, c + 1, count)
    count -= 1
  }
  if (count !== 4) return null
  return [
    [x[0]!, y[0]!],
    [x[1]!, y[1]!],
    [x[2]!, y[2]!],
    [x[3]!, y[3]!],
  ]
}

/** The convex hull of a piece, clockwise as seen: down its right ends, up its left ends (A. Andrew, Inf. Proc. Letters 9 (1979) 216). */
function writeHull(pieces: DarkPieces, piece: number, x: Float64Array, y: Float64Array): number {
  const { left, right } = pieces
  const rows = pieces.rows[piece]!
  const first = pieces.first[piece]!
  const top = pieces.top[piece]! + 0.5
  let count = 0
  let base = 0
  for (let step = 0; step < 2 * rows; step += 1) {
    if (step === rows) base = count
    const row = step < rows ? step : 2 * rows - 1 - step
    const px = step < rows ? right[first + row]! : left[first + row]!
    const py = top + row
    while (count >= base + 2) {
      const ax = x[count - 2]!
      const ay = y[count - 2]!
      if ((x[count - 1]! - ax) * (py - ay) - (y[count - 1]! - ay) * (px - ax) > 0) break
      count -= 1
    }
    x[count] = px
    y[count] = py
    count += 1
  }
  return count
}
