import type { PixelRegion } from '../../still/raster.js'

/**
 * A part of a picture in linear light, 1 = white at gain 1, row by row, `channels` values a pixel (1 grey, 3 red, green,
 * blue). Values are means over the pixel's area. `left`, `top`: where the part lies in the whole picture, px.
 */
export interface LinearImage extends PixelRegion {
  readonly channels: 1 | 3
  readonly data: Float32Array
}

/** An even picture of one linear level. */
export function evenImage(region: PixelRegion, channels: 1 | 3, level: number): LinearImage {
  const data = new Float32Array(region.width * region.height * channels).fill(level)
  return { left: region.left, top: region.top, width: region.width, height: region.height, channels, data }
}

/** A copy that can be painted on without changing the original. */
export function copyImage(image: LinearImage): LinearImage {
  return { ...image, data: image.data.slice() }
}

/** A copy of a part of a picture; the region lies within it. */
export function cropImage(image: LinearImage, region: PixelRegion): LinearImage {
  const part = evenImage(region, image.channels, 0)
  const row = region.width * image.channels
  for (let y = 0; y < region.height; y += 1) {
    const from = ((region.top + y - image.top) * image.width + region.left - image.left) * image.channels
    part.data.set(image.data.subarray(from, from + row), y * row)
  }
  return part
}
