import { halveBytes, type ByteImage } from '../../still/searchBytes.js'
import { clampRegion, type PixelRegion, type Raster } from '../../still/raster.js'
import type { GreyImage } from '../match/greyImage.js'

/** A picture a chart is looked for in: coarse code values for the search, half size first, exact ones for the fit. */
export interface SearchPicture {
  readonly width: number
  readonly height: number
  halfSearchBytes(): ByteImage
  searchBytes(): ByteImage
  /** Exact code values of a region, clamped to the picture. */
  lumaRegion(region: PixelRegion): Raster
}

/** A grey picture at hand as one to be searched. */
export function searchPicture(image: GreyImage): SearchPicture {
  const { width, height } = image
  const searchBytes = (): ByteImage => {
    const data = new Uint8Array(image.data.length)
    for (let at = 0; at < data.length; at += 1) data[at] = Math.min(255, Math.max(0, image.data[at]!)) + 0.5
    return { width, height, data }
  }
  return {
    width,
    height,
    searchBytes,
    halfSearchBytes: () => halveBytes(searchBytes()),
    lumaRegion: (asked) => {
      const region = clampRegion(asked, width, height)
      const data = new Float32Array(region.width * region.height)
      for (let row = 0; row < region.height; row += 1) {
        const from = (region.top + row) * width + region.left
        data.set(image.data.subarray(from, from + region.width), row * region.width)
      }
      return { ...region, data }
    },
  }
}
