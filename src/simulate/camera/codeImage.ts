import type { PixelRegion } from '../../still/raster.js'

/** A part of a picture in sRGB-encoded code values 0..255, row by row, `channels` values a pixel. */
export interface CodeImage extends PixelRegion {
  readonly channels: 1 | 3
  readonly data: Float32Array
}

/** A whole picture in code values ready to be written. */
export interface ByteImage {
  readonly width: number
  readonly height: number
  readonly channels: 1 | 3
  readonly data: Uint8ClampedArray
}
