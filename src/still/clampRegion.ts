import { ProofwalkError } from '../errors.js'
import type { PixelRegion } from './raster.js'

/**
 * The whole pixels that a region touches, cut to a still of `width` x `height` px. Throws `region-outside` where none is left
 * or a side is no number.
 */
export function clampRegion(region: PixelRegion, width: number, height: number): PixelRegion {
  const left = Math.max(0, Math.floor(region.left))
  const top = Math.max(0, Math.floor(region.top))
  const right = Math.min(width, Math.ceil(region.left + region.width))
  const bottom = Math.min(height, Math.ceil(region.top + region.height))
  if (!(right > left && bottom > top)) {
    throw new ProofwalkError(
      'region-outside',
      `the region ${region.left},${region.top} ${region.width} x ${region.height} holds no pixel of a still of ${width} x ${height}`,
    )
  }
  return { left, top, width: right - left, height: bottom - top }
}
