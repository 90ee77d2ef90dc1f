import type { ProofwalkError } from '../errors.js'
import { loadSharp } from './loadSharp.js'
import { dataJump, type CodedUnit } from './dataJump.js'
import type { PixelRegion } from './raster.js'
import { MOST_PIXELS } from './stillFault.js'
import { storedRegion, turnedSamples, type Orientation, type Samples } from './turn.js'
import { fault } from '../sentences.js'
import { stillSays } from './sentences.js'

/** A picture file in memory with what its head tells: all that decoding a part of it needs. */
export interface PictureSource {
  /** As the user named it, for messages. */
  readonly path: string
  readonly bytes: Buffer
  /** Size as stored, before any turn, px. */
  readonly storedWidth: number
  readonly storedHeight: number
  readonly orientation: Orientation
  /** Samples of more than 8 bits. */
  readonly deep: boolean
  /** The sample at white once decoded: 255, 65535, or a little less where 10 or 12 bits are moved up to 16. */
  readonly fullScale: number
  /** Grey throughout, with no colour profile to heed and no opacity, which a decode to grey would drop. */
  readonly grey: boolean
  /** Of a JPEG: pixels across and down that share one unit of coded data; null of others, or where it is not known. */
  readonly codedUnitPx: CodedUnit | null
  /** Threads one decode may use. */
  readonly threads: number
}

const OPTIONS = { failOn: 'warning', limitInputPixels: MOST_PIXELS, sequentialRead: true } as const

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
    const { data, info } = await sharp(source.bytes, OPTIONS)
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

/** A JPEG is decoded at this scale, which costs its entropy coding and little else, and leaves the means of its blocks. */
const SCALE = 8

/**
 * Decodes the whole picture once, as small as that goes, and throws it away: a region above a place where data are missing decodes without a word, an end mark put back behind
 * the cut included. Of a JPEG it is asked whether its data jump, and decoded in full where it ends as one does whose last data are missing: the small decode does not say so.
 * @throws `ProofwalkError` `still-damaged`
 */
export async function checkWhole(source: PictureSource): Promise<void> {
  const { storedWidth, storedHeight, codedUnitPx } = source
  const [width, height] = [storedWidth, storedHeight].map((px) => Math.ceil(px / SCALE)) as [number, number]
  const sharp = await loadSharp({ threads: source.threads })
  const small = await sharp(source.bytes, OPTIONS)
    .resize(width, height, { fit: 'fill' })
    .raw()
    .toBuffer({ resolveWithObject: true })
    .catch((error: unknown) => {
      throw damaged(source.path, error)
    })
  if (codedUnitPx === null || source.deep) return
  const unit = { width: codedUnitPx.width / SCALE, height: codedUnitPx.height / SCALE }
  const means = { samples: new Uint8Array(small.data), channels: small.info.channels, width, height }
  const row = dataJump(means, unit)
  if (row !== null) throw fault(stillSays['still-data-jump'](row * codedUnitPx.height), { file: source.path })
  if (endsEven(means.samples, means.channels))
    await decodeRegion(
      { ...source, orientation: 1 },
      { left: 0, top: storedHeight - 1, width: storedWidth, height: 1 },
    )
}

/** Whether the last two means are the same, as where a decoder fills up what is missing. */
function endsEven(samples: Uint8Array, channels: number): boolean {
  const last = samples.subarray(samples.length - channels)
  return last.every((value, at) => value === samples[samples.length - 2 * channels + at])
}

function damaged(path: string, error: unknown): ProofwalkError {
  const first = error instanceof Error ? (error.message.split('\n')[0] ?? '') : ''
  const reason = first.replace(/^\w+: /, '').trim()
  return fault(stillSays['still-damaged'](reason), { file: path })
}
