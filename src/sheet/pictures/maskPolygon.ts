import type { StillEntry } from '../../walk/schemas/resultsSchema.js'
import { stillScalePxPerM } from './referenceExtent.js'

type XY = readonly [number, number]

// A little beyond the picked corners, which may lie inside the true ones (this project's convention).
const GROWN = 1.06
const BESIDE_LENGTHS = 6
const BESIDE_M = 0.4

/**
 * The surface of a still's reference, image coordinates px, and the shorter side of it. Of a length `besideM` to either side of it: by default far enough that
 * characters cannot be read.
 */
export function maskPolygon(
  still: StillEntry,
  besideM: number = BESIDE_M,
): {
  readonly polygon: readonly XY[]
  readonly shortSidePx: number
} {
  const corners = still.corners
  const surface = corners.length === 2 ? besideLength(corners, besideM * stillScalePxPerM(still)) : corners
  const count = surface.length
  const cx = surface.reduce((sum, [x]) => sum + x, 0) / count
  const cy = surface.reduce((sum, [, y]) => sum + y, 0) / count
  const sides = surface.map(([x, y], index) => {
    const [nextX, nextY] = surface[(index + 1) % count] ?? [x, y]
    return Math.hypot(nextX - x, nextY - y)
  })
  return {
    polygon: surface.map(([x, y]): XY => [cx + (x - cx) * GROWN, cy + (y - cy) * GROWN]),
    shortSidePx: Math.min(...sides),
  }
}

/** A length may be the height of characters that run on to both sides, so the ground beside it is covered as well. */
function besideLength(ends: readonly XY[], mostPx: number): readonly XY[] {
  const [[x1, y1], [x2, y2]] = [ends[0] ?? [0, 0], ends[1] ?? [0, 0]]
  const length = Math.hypot(x2 - x1, y2 - y1)
  if (!(length > 0)) return ends
  const aside = Math.min(BESIDE_LENGTHS * length, mostPx)
  const [nx, ny] = [((y2 - y1) / length) * aside, (-(x2 - x1) / length) * aside]
  return [
    [x1 + nx, y1 + ny],
    [x1 - nx, y1 - ny],
    [x2 - nx, y2 - ny],
    [x2 + nx, y2 + ny],
  ]
}
