import type { Outcome } from '../math/outcome.js'
import { failure, success } from '../math/outcome.js'
import type { StillFault } from './stillFault.js'
import { stillSays } from './sentences.js'

/** The picture formats that are read. */
export type PictureFormat = 'jpeg' | 'png' | 'webp' | 'tiff' | 'avif'

const AVIF_BRANDS = ['avif', 'avis']
const HEIC_BRANDS = ['heic', 'heix', 'heim', 'heis', 'hevc', 'hevx', 'hevm', 'hevs', 'mif1', 'msf1']

/** Formats known by their first bytes and not read, by the words a person knows them under. */
const OTHER_PICTURES: readonly (readonly [start: string, name: string])[] = [
  ['GIF8', 'a GIF'],
  ['BM', 'a BMP'],
  ['\x00\x00\x00\x0cJXL ', 'a JPEG XL'],
  ['\xff\x0a', 'a JPEG XL'],
  ['\x00\x00\x00\x0cjP  ', 'a JPEG 2000'],
  ['8BPS', 'a layered picture'],
  ['%PDF', 'a PDF'],
  ['\x89PNG', 'a PNG with a spoilt head'],
]

/** Starts of common containers of moving pictures: Matroska and WebM, FLV, MPEG programme streams, bare H.264 and H.265. */
const VIDEO_STARTS = [
  '\x1a\x45\xdf\xa3',
  'FLV\x01',
  '\x00\x00\x01\xba',
  '\x00\x00\x01\xb3',
  '\x00\x00\x00\x01',
]

/** Tells by the first bytes, never by its name, whether a file is a picture that can be read. */
export function pictureFormat(bytes: Buffer): Outcome<PictureFormat, StillFault> {
  const head = bytes.toString('latin1', 0, 64)
  if (head.startsWith('\xff\xd8\xff')) return success('jpeg')
  if (head.startsWith('\x89PNG\r\n\x1a\n')) return success('png')
  if (head.startsWith('RIFF') && head.slice(8, 12) === 'WEBP') return success('webp')
  if (['II*\0', 'MM\0*', 'II+\0', 'MM\0+'].includes(head.slice(0, 4))) return success('tiff')
  if (head.slice(4, 8) === 'ftyp') return isoMediaFormat(bytes)
  if (isVideo(bytes, head)) return video()
  const other = OTHER_PICTURES.find(([start]) => head.startsWith(start))
  return failure(
    other === undefined ? stillSays['still-not-a-picture']() : stillSays['still-other-format'](other[1]),
  )
}

function isoMediaFormat(bytes: Buffer): Outcome<PictureFormat, StillFault> {
  const boxEnd = Math.min(bytes.readUInt32BE(0), bytes.length, 256)
  const brands: string[] = []
  for (let at = 8; at + 4 <= boxEnd; at += at === 8 ? 8 : 4) brands.push(bytes.toString('latin1', at, at + 4))
  if (brands.some((brand) => AVIF_BRANDS.includes(brand))) return success('avif')
  if (brands.some((brand) => HEIC_BRANDS.includes(brand))) {
    return failure(stillSays['still-is-heic']())
  }
  return video()
}

function isVideo(bytes: Buffer, head: string): boolean {
  if (head.startsWith('RIFF') && head.slice(8, 12) === 'AVI ') return true
  if (bytes.length > 376 && bytes[0] === 0x47 && bytes[188] === 0x47 && bytes[376] === 0x47) return true
  return VIDEO_STARTS.some((start) => head.startsWith(start))
}

function video(): Outcome<never, StillFault> {
  return failure(stillSays['still-is-video']())
}
