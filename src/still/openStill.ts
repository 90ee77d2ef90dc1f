import type { Metadata } from 'sharp'
import { type Outcome, failure, success } from '../math/outcome.js'
import { sha256Of } from '../files/fileSha256.js'
import { clampRegion, type PixelRegion, type Raster, type StillPixels } from './raster.js'
import { cropPicture, type CroppedPicture, type CropOptions } from './cropPicture.js'
import { checkWhole, decodeRegion, type PictureSource } from './decodeRegion.js'
import type { CodedUnit } from './dataJump.js'
import { exifTime } from './exifTime.js'
import { loadSharp } from './loadSharp.js'
import { lumaOf } from './luma.js'
import { pictureFormat, type PictureFormat } from './pictureFormat.js'
import { readStillBytes } from './readStillBytes.js'
import { reducedPicture } from './reducedPicture.js'
import { LONGEST_SIDE_PX, MOST_PIXELS, type StillFault } from './stillFault.js'
import { stillRemarks, type StillRemark } from './stillRemarks.js'
import { swapsSides, type Orientation } from './turn.js'
import { avifDepthsAgree, isWholeFile } from './wholeFile.js'
import { wholeStill, type WholeStill } from './wholeStill.js'
import { stillSays } from './sentences.js'

/** A still file that was opened: what is known of it, and its pixels where they are asked for. */
export interface StillFile extends StillPixels {
  /** As it was named. */
  readonly path: string
  readonly format: PictureFormat
  /** Hexadecimal digest of the file's bytes. */
  readonly sha256: string
  readonly sizeBytes: number
  /** When the camera says it was taken, "2026-03-14T21:05:11" without a zone; null where it does not say. */
  readonly takenAt: string | null
  /** What the reader should know of how it is read: further pictures in the file, opacity, converted colours. */
  readonly remarks: readonly StillRemark[]
  /** A region (as displayed, clamped) as a picture file of its own, in colour and without EXIF. */
  crop(region: PixelRegion, options: CropOptions): Promise<CroppedPicture>
  /** The whole still, decoded once to be held. */
  whole(): Promise<WholeStill>
  /** The whole still, or a region inside it, reduced to a size for looking at: 8-bit RGB, row by row. */
  reduced(width: number, height: number, region?: PixelRegion | null): Promise<Buffer>
}

/** How stills are opened. */
export interface OpenOptions {
  /** Threads one decode may use; 1 unless given, as several stills are decoded at once. */
  readonly threads?: number
}

/**
 * Opens a still: reads the file once, never changes it, and tells whether it can be measured. Nothing is decoded yet. A fault of
 * the file is an outcome with its own code and the mend in its message.
 * @throws `ProofwalkError` by its `region` and `crop` alone: `still-damaged` where the pixels turn out spoilt, `region-outside` where a region holds no pixel
 */
export async function openStill(
  path: string,
  options: OpenOptions = {},
): Promise<Outcome<StillFile, StillFault>> {
  const read = await readStillBytes(path)
  if (!read.ok) return read
  const bytes = read.value
  const format = pictureFormat(bytes)
  if (!format.ok) return format
  if (!isWholeFile(format.value, bytes)) {
    return failure(stillSays['still-cut-short']())
  }
  if (format.value === 'avif' && !avifDepthsAgree(bytes)) return failure(stillSays['still-head-damaged']())
  const threads = options.threads ?? 1
  const head = await readHead(bytes, threads)
  if (!head.ok) return head
  const source = sourceOf(path, bytes, head.value, format.value, threads)
  return success(stillOf(source, head.value, format.value))
}

async function readHead(bytes: Buffer, threads: number): Promise<Outcome<Metadata, StillFault>> {
  const sharp = await loadSharp({ threads })
  let head: Metadata
  try {
    head = await sharp(bytes, { limitInputPixels: false }).metadata()
  } catch {
    return failure(stillSays['still-head-damaged']())
  }
  const { width, height } = head
  if (width > LONGEST_SIDE_PX || height > LONGEST_SIDE_PX || width * height > MOST_PIXELS) {
    return failure(stillSays['still-too-large'](width, height, LONGEST_SIDE_PX, MOST_PIXELS))
  }
  if (head.depth !== 'uchar' && head.depth !== 'ushort') {
    return failure(stillSays['still-other-samples'](head.depth))
  }
  return success(head)
}

function sourceOf(
  path: string,
  bytes: Buffer,
  head: Metadata,
  format: PictureFormat,
  threads: number,
): PictureSource {
  const deep = head.depth === 'ushort'
  return {
    path,
    bytes,
    storedWidth: head.width,
    storedHeight: head.height,
    orientation: orientationOf(head, format),
    deep,
    fullScale: deep ? (2 ** bitDepthOf(head) - 1) * 2 ** (16 - bitDepthOf(head)) : 255,
    grey: (head.space === 'b-w' || head.space === 'grey16') && !head.hasProfile && !head.hasAlpha,
    codedUnitPx: format === 'jpeg' ? (CODED_UNITS_PX[head.chromaSubsampling ?? '4:4:4'] ?? null) : null,
    threads,
  }
}

/** Pixels across and down of a JPEG's units by how its colours are sampled (ITU-T T.81, A.2); grey has one block a unit. */
const CODED_UNITS_PX: Readonly<Record<string, CodedUnit>> = {
  '4:4:4': { width: 8, height: 8 },
  '4:2:2': { width: 16, height: 8 },
  '4:2:0': { width: 16, height: 16 },
  '4:4:0': { width: 8, height: 16 },
}

function stillOf(source: PictureSource, head: Metadata, format: PictureFormat): StillFile {
  const swapped = swapsSides(source.orientation)
  const width = swapped ? source.storedHeight : source.storedWidth
  const height = swapped ? source.storedWidth : source.storedHeight
  // Once, whatever number of regions is asked for.
  let checked: Promise<void> | undefined
  const block = head.exif ?? (format === 'tiff' ? source.bytes : null)
  return {
    path: source.path,
    format,
    sha256: sha256Of(source.bytes),
    sizeBytes: source.bytes.length,
    takenAt: block === null ? null : exifTime(block),
    remarks: stillRemarks(head),
    width,
    height,
    bitDepth: bitDepthOf(head),
    async region(asked: PixelRegion): Promise<Raster> {
      const region = clampRegion(asked, width, height)
      await (checked ??= checkWhole(source))
      const { samples, channels } = await decodeRegion(source, region)
      return { ...region, data: lumaOf(samples, channels, source.fullScale) }
    },
    crop: (region, options) => cropPicture(source, region, options),
    async whole() {
      await (checked ??= checkWhole(source))
      return wholeStill(source, width, height, bitDepthOf(head))
    },
    reduced: (toWidth, toHeight, part) => reducedPicture(source, toWidth, toHeight, part),
  }
}

/** AVIF turns itself while it is decoded; its EXIF orientation is not to be obeyed again (ISO/IEC 23008-12, 6.5.10). */
function orientationOf(head: Metadata, format: PictureFormat): Orientation {
  const told = format === 'avif' ? 1 : head.orientation
  return told !== undefined && told >= 1 && told <= 8 ? (told as Orientation) : 1
}

function bitDepthOf(head: Metadata): number {
  if (head.depth !== 'ushort') return 8
  const told = head.bitsPerSample ?? 16
  return told > 8 && told <= 16 ? told : 16
}
