import type { PixelRegion } from '../../still/raster.js'
import type { FlatPlaces } from '../../lens/flatView.js'
import { mapPoint, type Homography } from '../../math/homography.js'
import type { Point } from '../../math/point.js'
import { chartAreas, chartFace } from '../printed/chartGeometry.js'

/** Through a lens an edge is drawn in straight pieces of this length, px: over it a wide lens' line bends by a tenth of a pixel. */
const PIECE_PX = 48

/**
 * Marks with 1, in `mask` (a byte for each pixel of `box`, row by row), the pixels whose centres lie within `reachPx` of an edge of a face's chart as `map` (modules to px, of the flat
 * view `places` or of the still itself) draws it.
 */
export function markEdges(
  mask: Uint8Array,
  box: PixelRegion,
  face: number,
  map: Homography,
  places: FlatPlaces | null,
  reachPx: number,
): void {
  for (const { corners } of chartAreas(chartFace(face)))
    for (let side = 0; side < 4; side += 1) {
      const [u, v] = corners[side]!
      const [toU, toV] = corners[(side + 1) % 4]!
      const at = (share: number): Point | null => {
        const [x, y] = mapPoint(map, u + share * (toU - u), v + share * (toV - v))
        return places === null ? [x, y] : places.toStill(x, y)
      }
      let [from, end] = [at(0), at(1)]
      if (from === null || end === null) continue
      const lengthPx = Math.hypot(end[0] - from[0], end[1] - from[1])
      const pieces = places === null ? 1 : Math.ceil(lengthPx / PIECE_PX)
      for (let piece = 1; from !== null && piece <= pieces; piece += 1) {
        end = at(piece / pieces)
        if (end !== null) markAlong(mask, box, from, end, reachPx)
        from = end
      }
    }
}

/** Marks what lies within `reach` of a straight piece, to its sides and beyond its ends. */
function markAlong(mask: Uint8Array, box: PixelRegion, a: Point, b: Point, reach: number): void {
  const length = Math.max(1e-9, Math.hypot(b[0] - a[0], b[1] - a[1]))
  const [tx, ty] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length]
  const first = Math.max(0, Math.floor(Math.min(a[1], b[1]) - 1.5 * reach) - box.top)
  const last = Math.min(box.height - 1, Math.ceil(Math.max(a[1], b[1]) + 1.5 * reach) - box.top)
  for (let row = first; row <= last; row += 1) {
    const dy = box.top + row + 0.5 - a[1]
    // Of the row: where it is within reach across the piece, and along it.
    const across = between(-ty, tx * dy, -reach, reach)
    const along = between(tx, ty * dy, -reach, length + reach)
    const left = Math.max(across[0], along[0]) + a[0] - box.left
    const right = Math.min(across[1], along[1]) + a[0] - box.left
    const [from, to] = [Math.max(0, Math.ceil(left - 0.5)), Math.min(box.width, Math.floor(right - 0.5) + 1)]
    if (to > from) mask.fill(1, row * box.width + from, row * box.width + to)
  }
}

/** The x between which slope x + offset lies between `low` and `high`. */
function between(slope: number, offset: number, low: number, high: number): Point {
  if (Math.abs(slope) < 1e-9) return offset >= low && offset <= high ? [-Infinity, Infinity] : [1, 0]
  const [one, other] = [(low - offset) / slope, (high - offset) / slope]
  return one < other ? [one, other] : [other, one]
}
