import type { PixelRegion } from '../still/raster.js'

/** A part of a picture in sRGB-encoded code values 0..255, whole or not, row by row, `channels` values a pixel. */
export interface CodeImage extends PixelRegion {
  readonly channels: 1 | 3
  readonly data: Float32Array
}
