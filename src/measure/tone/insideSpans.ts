import type { PixelRegion } from '../../still/raster.js'
import type { SideLine } from '../edge/sideLine.js'

/**
 * The pixels of a region whose centres lie deeper than `depthPx` inside all sides (as endless lines; negative: up to so far outside), row by row:
 * row j's are the columns from element 2 j up to, not including, element 2 j + 1. A convex outline has one such run a row.
 */
export function insideSpans(lines: readonly SideLine[], region: PixelRegion, depthPx: number): Int32Array {
  const { width, height } = region
  const spans = new Int32Array(2 * height)
  for (let j = 0; j < height; j += 1) {
    let first = 0
    let end = width
    for (const { from, outward } of lines) {
      const deep =
        (from[0] - region.left - 0.5) * outward[0] + (from[1] - region.top - 0.5 - j) * outward[1] - depthPx
      if (outward[0] > 0) end = Math.min(end, Math.ceil(deep / outward[0]))
      else if (outward[0] < 0) first = Math.max(first, Math.floor(deep / outward[0]) + 1)
      else if (!(deep > 0)) end = 0
    }
    if (end <= first) continue
    spans[2 * j] = first
    spans[2 * j + 1] = end
  }
  return spans
}
