import { lumaOf } from './luma.js'
import type { Samples } from './turn.js'

/** Whole code values 0..255, row by row: enough to look for things, a quarter of the memory of a `Raster`. */
export interface ByteImage {
  readonly width: number
  readonly height: number
  readonly data: Uint8Array
}

/**
 * What a black and white thing is looked for in: green of 8-bit colour samples, which has the least noise and the most detail of the three and
 * costs a quarter of luma; else luma, rounded. `width`: of the picture, px; `fullScale`: the sample at white.
 */
export function searchBytes(samples: Samples, width: number, channels: number, fullScale: number): ByteImage {
  const pixels = Math.floor(samples.length / channels)
  const size = { width, height: Math.round(pixels / width) }
  if (samples instanceof Uint8Array && channels === 1) return { ...size, data: samples }
  const data = new Uint8Array(pixels)
  if (samples instanceof Uint8Array && channels === 3) {
    writeGreen(samples, data)
    return { ...size, data }
  }
  const exact = lumaOf(samples, channels, fullScale)
  for (let pixel = 0; pixel < pixels; pixel++) data[pixel] = exact[pixel]! + 0.5
  return { ...size, data }
}

/** Pixels of colour whose greens are gathered in one go: their bytes fill whole words, and they stay in the cache. */
const GATHERED = 4096

/** The middle one of each three bytes. */
function writeGreen(samples: Uint8Array, out: Uint8Array): void {
  const colours = new Uint8Array(3 * GATHERED)
  const greens = new Uint8Array(GATHERED)
  const from = new Int32Array(colours.buffer)
  const to = new Int32Array(greens.buffer)
  for (let pixel = 0; pixel < out.length; pixel += GATHERED) {
    const count = Math.min(GATHERED, out.length - pixel)
    colours.set(samples.subarray(3 * pixel, 3 * (pixel + count)))
    // Three words hold four pixels; their greens are bytes 1, 4, 7 and 10, the lowest of a word first.
    for (let four = 0, at = 0; at < from.length; four++, at += 3) {
      const middle = from[at + 1]!
      to[four] =
        ((from[at]! >>> 8) & 0xff) |
        ((middle & 0xff) << 8) |
        ((middle >>> 24) << 16) |
        ((from[at + 2]! << 8) & 0xff000000)
    }
    out.set(greens.subarray(0, count), pixel)
  }
}

/**
 * The same at half size, of 8-bit colour straight from the samples: means of 2 x 2 pixels, rounded; an odd last row or column is left out.
 */
export function halfSearchBytes(
  samples: Samples,
  width: number,
  channels: number,
  fullScale: number,
): ByteImage {
  if (!(samples instanceof Uint8Array) || channels !== 3)
    return halveBytes(searchBytes(samples, width, channels, fullScale))
  const halfWidth = width >> 1
  const halfHeight = Math.floor(samples.length / 3 / width) >> 1
  const data = new Uint8Array(halfWidth * halfHeight)
  const room = rowRoom(12 * Math.ceil(width / 4), halfWidth)
  const { out } = room
  for (let y = 0; y < halfHeight; y++) {
    readRows(samples, 2 * y, 3 * width, room)
    const { above, below } = room
    for (let at = 0, to = 0; to < halfWidth; at += 3, to += 2) {
      const [a, b] = [above[at + 1]!, below[at + 1]!]
      const left = ((above[at]! >>> 8) & 0xff) + (a & 0xff) + ((below[at]! >>> 8) & 0xff) + (b & 0xff)
      const right =
        (a >>> 24) + ((above[at + 2]! >>> 16) & 0xff) + (b >>> 24) + ((below[at + 2]! >>> 16) & 0xff)
      out[to] = (left + 2) >> 2
      out[to + 1] = (right + 2) >> 2
    }
    data.set(out.subarray(0, halfWidth), y * halfWidth)
  }
  return { width: halfWidth, height: halfHeight, data }
}

/** A picture at half size: means of 2 x 2 pixels, rounded; a point (x, y) goes to (x/2, y/2). */
export function halveBytes(image: ByteImage): ByteImage {
  const width = image.width >> 1
  const height = image.height >> 1
  const data = new Uint8Array(width * height)
  const room = rowRoom(4 * Math.ceil(image.width / 4), width)
  const { out } = room
  for (let y = 0; y < height; y++) {
    readRows(image.data, 2 * y, image.width, room)
    const { above, below } = room
    // A word holds two pairs of pixels: their sums fit 16 bits each.
    for (let at = 0, to = 0; to < width; at++, to += 2) {
      const [a, b] = [above[at]!, below[at]!]
      const sums = (a & PAIRS) + ((a >>> 8) & PAIRS) + (b & PAIRS) + ((b >>> 8) & PAIRS) + 0x20002
      out[to] = (sums >>> 2) & 0xff
      out[to + 1] = (sums >>> 18) & 0xff
    }
    data.set(out.subarray(0, width), y * width)
  }
  return { width, height, data }
}

/** The even bytes of a word. */
const PAIRS = 0x00ff00ff

/** Two rows of a picture as words of four bytes, and a row of half their length to write. */
interface RowRoom {
  readonly aboveBytes: Uint8Array
  readonly belowBytes: Uint8Array
  above: Int32Array
  below: Int32Array
  readonly out: Uint8Array
}

function rowRoom(bytes: number, outBytes: number): RowRoom {
  const aboveBytes = new Uint8Array(bytes)
  const belowBytes = new Uint8Array(bytes)
  return {
    aboveBytes,
    belowBytes,
    above: new Int32Array(aboveBytes.buffer),
    below: new Int32Array(belowBytes.buffer),
    out: new Uint8Array(outBytes + 1),
  }
}

/** Takes row `y` and the next, of `length` bytes each, as words: where they lie, or copied to where words are aligned. */
function readRows(data: Uint8Array, y: number, length: number, room: RowRoom): void {
  const from = data.byteOffset + y * length
  if (from % 4 === 0 && length % 4 === 0) {
    room.above = new Int32Array(data.buffer, from, length / 4)
    room.below = new Int32Array(data.buffer, from + length, length / 4)
    return
  }
  room.aboveBytes.set(data.subarray(y * length, (y + 1) * length))
  room.belowBytes.set(data.subarray((y + 1) * length, (y + 2) * length))
}
