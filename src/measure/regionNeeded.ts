import type { Quad } from '../math/point.js'
import type { PixelRegion } from '../still/raster.js'

/** Quiet ground and ring around a reference: the widest strip an edge is read on and the surround's ring fit within. */
const MARGIN_PX = 32
/** A region is never more than this far beyond the outline on a side, whatever the margin's share says. */
const MOST_MARGIN_PX = 64

/**
 * The whole pixels to decode around a reference for sharpness, tone and the checks: its outline and 32 px about it (a tenth of its longer side, to 64 px, where
 * that is more), within the still. Corners in image coordinates, px. Empty (no width or height) where the outline lies outside the still.
 */
export function regionNeeded(corners: Quad, stillWidth: number, stillHeight: number): PixelRegion {
  const xs = corners.map(([x]) => x)
  const ys = corners.map(([, y]) => y)
  const [left, right, top, bottom] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)]
  const margin = Math.min(MOST_MARGIN_PX, Math.max(MARGIN_PX, Math.max(right - left, bottom - top) / 10))
  const within = (value: number, most: number): number => Math.max(0, Math.min(most, value))
  const from = {
    x: within(Math.floor(left - margin), stillWidth),
    y: within(Math.floor(top - margin), stillHeight),
  }
  const to = {
    x: within(Math.ceil(right + margin), stillWidth),
    y: within(Math.ceil(bottom + margin), stillHeight),
  }
  return { left: from.x, top: from.y, width: to.x - from.x, height: to.y - from.y }
}
