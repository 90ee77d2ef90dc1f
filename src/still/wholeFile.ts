import type { PictureFormat } from './pictureFormat.js'
import { tiffIsWhole } from './tiffDirectory.js'

/**
 * Whether a picture file has its end. The container is asked, not the decoder: a region above a cut decodes without any error.
 * Bytes after the end are allowed, since some recorders append their own.
 */
export function isWholeFile(format: PictureFormat, bytes: Buffer): boolean {
  switch (format) {
    case 'jpeg':
      return jpegIsWhole(bytes)
    case 'png':
      return pngIsWhole(bytes)
    case 'webp':
      return bytes.length >= 12 && bytes.readUInt32LE(4) + 8 <= bytes.length
    case 'tiff':
      return tiffIsWhole(bytes)
    case 'avif':
      return isoMediaIsWhole(bytes)
  }
}

const JPEG_END = Buffer.from([0xff, 0xd9])

/** The end mark must come after the first scan's head: a thumbnail inside the head has an end of its own. ITU-T T.81, annex B. */
function jpegIsWhole(bytes: Buffer): boolean {
  let at = 2
  while (at + 4 <= bytes.length) {
    if (bytes[at] !== 0xff) {
      at = bytes.indexOf(0xff, at)
      if (at < 0) return false
      continue
    }
    const mark = bytes[at + 1] ?? 0
    if (mark === 0xff) {
      at += 1
    } else if (mark <= 0x01 || (mark >= 0xd0 && mark <= 0xd8)) {
      at += 2
    } else if (mark === 0xda) {
      return bytes.lastIndexOf(JPEG_END) >= at + 2 + bytes.readUInt16BE(at + 2)
    } else {
      at += 2 + bytes.readUInt16BE(at + 2)
    }
  }
  return false
}

/** Chunk by chunk (length, name, data, check) to the one named IEND. ISO/IEC 15948, 5.3. */
function pngIsWhole(bytes: Buffer): boolean {
  let at = 8
  while (at + 12 <= bytes.length) {
    if (bytes.toString('latin1', at + 4, at + 8) === 'IEND') return true
    at += 12 + bytes.readUInt32BE(at)
  }
  return false
}

/** Every top-level box lies inside the file, and one holds the picture's data. ISO/IEC 14496-12, 4.2. */
function isoMediaIsWhole(bytes: Buffer): boolean {
  let at = 0
  let holdsData = false
  while (at + 8 <= bytes.length) {
    const shortSize = bytes.readUInt32BE(at)
    const name = bytes.toString('latin1', at + 4, at + 8)
    holdsData ||= name === 'mdat' || name === 'idat'
    if (shortSize === 0) return holdsData
    if (shortSize === 1 && at + 16 > bytes.length) return false
    const size = shortSize === 1 ? Number(bytes.readBigUInt64BE(at + 8)) : shortSize
    if (size < 8 || at + size > bytes.length) return false
    at += size
  }
  return holdsData
}

/**
 * Whether an AVIF's two words for the depth of its samples agree: a decoder goes by the first alone, and draws the picture darker where it is wrong.
 * AV1 Codec ISO Media File Format Binding 2.3 (its configuration, of version 1); ISO/IEC 23008-12, 6.5.6 (pixi).
 */
export function avifDepthsAgree(bytes: Buffer): boolean {
  const config = bytes.indexOf('av1C')
  const pixel = bytes.indexOf('pixi')
  if (config < 0 || config + 7 > bytes.length) return true
  const flags = bytes[config + 6]!
  if (bytes[config + 4] !== 0x81) return false
  const depth = (flags & 0x40) === 0 ? 8 : (flags & 0x20) === 0 ? 10 : 12
  // Flags and version, then how many channels, then each one's bits.
  return pixel < 0 || pixel + 10 > bytes.length || bytes[pixel + 9] === depth
}
