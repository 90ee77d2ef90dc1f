import { fault } from '../sentences.js'
import { stillSays } from './sentences.js'

/** A rectangle of whole pixels of a still as displayed (EXIF orientation applied), px. */
export interface PixelRegion {
  readonly left: number
  readonly top: number
  readonly width: number
  readonly height: number
}

/**
 * Luma code values of a region of a still. `data` is row by row, on the scale 0..255 whatever the file's depth
 * (16-bit code values are divided by 257 and keep their fractions), sRGB-encoded. The pixel at (column i, row j) of the region has its centre at
 * (left + i + 0.5, top + j + 0.5) in image coordinates.
 */
export interface Raster extends PixelRegion {
  readonly data: Float32Array
}

/** A still whose pixels are decoded only where they are asked for. */
export interface StillPixels {
  /** Size of the whole still as displayed, px. */
  readonly width: number
  readonly height: number
  /** Bits per sample of the file: 8, 10, 12 or 16. */
  readonly bitDepth: number
  /** Decodes a region, which is clamped to the still; the raster says which region it covers. */
  region(region: PixelRegion): Promise<Raster>
}

/**
 * The whole pixels that a region touches, cut to a still of `width` x `height` px.
 * @throws `ProofwalkError` `region-outside` where none is left or a side is no number
 */
export function clampRegion(region: PixelRegion, width: number, height: number): PixelRegion {
  const left = Math.max(0, Math.floor(region.left))
  const top = Math.max(0, Math.floor(region.top))
  const right = Math.min(width, Math.ceil(region.left + region.width))
  const bottom = Math.min(height, Math.ceil(region.top + region.height))
  if (!(right > left && bottom > top)) {
    throw fault(stillSays['region-outside'](region, width, height))
  }
  return { left, top, width: right - left, height: bottom - top }
}
