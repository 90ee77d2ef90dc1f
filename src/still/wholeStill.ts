import { clampRegion, type PixelRegion, type Raster, type StillPixels } from './raster.js'
import { coloursOf, lumaOf } from './luma.js'
import { decodeRegion, type PictureSource } from './decodeRegion.js'
import { halfSearchBytes, searchBytes, type ByteImage } from './searchBytes.js'
import type { Samples } from './turn.js'

/** A still whose samples are all in memory: its regions are cut from them, the same to the last bit as decoded one by one. */
export interface WholeStill extends StillPixels {
  /** 8-bit RGB of a region (clamped to the still), row by row. */
  colours(region: PixelRegion): { readonly region: PixelRegion; readonly data: Buffer }
  /** Exact luma of a region (clamped to the still), as `region` gives it. */
  lumaRegion(region: PixelRegion): Raster
  /** The whole still in whole code values to look for things in, made anew at each call; and at half size. */
  searchBytes(): ByteImage
  halfSearchBytes(): ByteImage
  /** What it takes in memory. */
  readonly sizeBytes: number
}

/**
 * Decodes a still of `width` x `height` px (as displayed) once and holds it.
 * @throws `ProofwalkError` `still-damaged`
 */
export async function wholeStill(
  source: PictureSource,
  width: number,
  height: number,
  bitDepth: number,
): Promise<WholeStill> {
  const { samples, channels } = await decodeRegion(source, { left: 0, top: 0, width, height })
  const cut = (region: PixelRegion): Samples => cutSamples(samples, width * channels, region, channels)
  const lumaRegion = (asked: PixelRegion): Raster => {
    const region = clampRegion(asked, width, height)
    return { ...region, data: lumaOf(cut(region), channels, source.fullScale) }
  }
  return {
    width,
    height,
    bitDepth,
    sizeBytes: samples.byteLength,
    lumaRegion,
    region: (asked) => Promise.resolve(lumaRegion(asked)),
    searchBytes: () => searchBytes(samples, width, channels, source.fullScale),
    halfSearchBytes: () => halfSearchBytes(samples, width, channels, source.fullScale),
    colours(asked) {
      const region = clampRegion(asked, width, height)
      return { region, data: coloursOf(cut(region), channels, source.fullScale) }
    },
  }
}

function cutSamples(samples: Samples, rowLength: number, region: PixelRegion, channels: number): Samples {
  const length = region.width * channels
  const part = new (samples instanceof Uint16Array ? Uint16Array : Uint8Array)(length * region.height)
  for (let row = 0; row < region.height; row++) {
    const from = (region.top + row) * rowLength + region.left * channels
    part.set(samples.subarray(from, from + length), row * length)
  }
  return part
}
