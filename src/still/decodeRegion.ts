import type { ProofwalkError } from '../errors.js'
import { loadSharp } from './loadSharp.js'
import type { PictureSource } from './pictureSource.js'
import type { PixelRegion } from './raster.js'
import { MOST_PIXELS } from './stillFault.js'
import { storedRegion, turnedSamples, type Samples } from './turn.js'
import { fault } from '../sentences.js'
import { stillSays } from './sentences.js'

/** Interleaved samples of a region as displayed, row by row: 1 to 4 channels, sRGB-encoded. */
export interface DecodedRegion {
  readonly samples: Samples
  readonly channels: number
}

/**
 * Decodes a region (as displayed, inside the still) and no more than it needs: coordinates are turned instead of the picture, and a
 * sequential decode ends with the region's last row. An embedded colour profile is converted to sRGB.
 * @throws `ProofwalkError` `still-damaged`
 */
export async function decodeRegion(source: PictureSource, region: PixelRegion): Promise<DecodedRegion> {
  const stored = storedRegion(region, source.orientation, source.storedWidth, source.storedHeight)
  const sharp = await loadSharp({ threads: source.threads })
  const colourspace = source.grey ? (source.deep ? 'grey16' : 'b-w') : source.deep ? 'rgb16' : 'srgb'
  try {
    const { data, info } = await sharp(source.bytes, {
      failOn: 'warning',
      limitInputPixels: MOST_PIXELS,
      sequentialRead: true,
    })
      .extract(stored)
      .toColourspace(colourspace)
      .raw({ depth: source.deep ? 'ushort' : 'uchar' })
      .toBuffer({ resolveWithObject: true })
    const samples = source.deep
      ? new Uint16Array(data.buffer, data.byteOffset, data.byteLength / 2)
      : new Uint8Array(data.buffer, data.byteOffset, data.byteLength)
    return {
      samples: turnedSamples(samples, stored.width, stored.height, info.channels, source.orientation),
      channels: info.channels,
    }
  } catch (error) {
    throw damaged(source.path, error)
  }
}

/** A JPEG is decoded at this scale, which costs its entropy coding and little else. */
const SCALE = 8

/**
 * Decodes the whole picture once, as small as that goes, and throws it away: a region above a place where data are missing decodes without a word, an end mark put back behind
 * the cut included.
 * @throws `ProofwalkError` `still-damaged`
 */
export async function checkWhole(source: PictureSource): Promise<void> {
  const sharp = await loadSharp({ threads: source.threads })
  const [width, height] = [source.storedWidth, source.storedHeight].map((px) => Math.ceil(px / SCALE))
  try {
    await sharp(source.bytes, { failOn: 'warning', limitInputPixels: MOST_PIXELS, sequentialRead: true })
      .resize(width, height, { fit: 'fill' })
      .raw()
      .toBuffer()
  } catch (error) {
    throw damaged(source.path, error)
  }
}

function damaged(path: string, error: unknown): ProofwalkError {
  const first = error instanceof Error ? (error.message.split('\n')[0] ?? '') : ''
  const reason = first.replace(/^\w+: /, '').trim()
  return fault(stillSays['still-damaged'](reason), { file: path })
}
