import { readTiffDirectory } from './tiffDirectory.js'

const EXIF_DIRECTORY = 0x8769
const TAKEN = 0x9003
const WRITTEN = 0x0132

/**
 * When a still was taken by the camera's own clock, as "2026-03-14T21:05:11" without a zone, from an EXIF block or a TIFF file
 * (tag 0x9003, else 0x0132; EXIF 2.3, section 4.6); null where there is none or it is no time. The clock may be wrong.
 */
export function exifTime(block: Buffer): string | null {
  const tiff = block.toString('latin1', 0, 6) === 'Exif\0\0' ? block.subarray(6) : block
  const first = readTiffDirectory(tiff)
  if (first === null) return null
  const pointer = first.get(EXIF_DIRECTORY)?.numbers[0]
  const exif = pointer === undefined ? null : readTiffDirectory(tiff, pointer)
  const text = exif?.get(TAKEN)?.text ?? first.get(WRITTEN)?.text ?? ''
  const parts = /^(\d{4})[:-](\d\d)[:-](\d\d)[ T](\d\d:\d\d:\d\d)/.exec(text)
  if (parts === null || parts[1] === '0000') return null
  const time = `${parts[1]}-${parts[2]}-${parts[3]}T${parts[4]}`
  // A 13th month or a 31st of February is no time either.
  return new Date(`${time}Z`).toJSON()?.startsWith(time) === true ? time : null
}
