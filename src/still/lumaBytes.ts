import { lumaOf } from './luma.js'
import type { Samples } from './turn.js'

/** Luma as whole code values 0..255, row by row: enough to look for things, a quarter of the memory of a `Raster`. */
export interface ByteImage {
  readonly width: number
  readonly height: number
  readonly data: Uint8Array
}

/** Luma (Y' of BT.601, rounded) of interleaved samples of a picture `width` px wide. `fullScale`: the sample at white. */
export function lumaBytes(samples: Samples, width: number, channels: number, fullScale: number): ByteImage {
  const pixels = Math.floor(samples.length / channels)
  const size = { width, height: Math.round(pixels / width) }
  if (samples instanceof Uint8Array && channels === 1) return { ...size, data: samples }
  const data = new Uint8Array(pixels)
  if (samples instanceof Uint8Array && channels === 3) {
    for (let pixel = 0, at = 0; pixel < pixels; pixel++, at += 3)
      data[pixel] = lumaSum(samples[at]!, samples[at + 1]!, samples[at + 2]!) * 0.001 + 0.5
    return { ...size, data }
  }
  const exact = lumaOf(samples, channels, fullScale)
  for (let pixel = 0; pixel < pixels; pixel++) data[pixel] = exact[pixel]! + 0.5
  return { ...size, data }
}

/**
 * The same at half size, straight from the samples: means of 2 x 2 pixels, rounded; an odd last row or column is left out. Null for samples it
 * is not made for (16 bits, opacity).
 */
export function halfLumaBytes(samples: Samples, width: number, channels: number): ByteImage | null {
  if (!(samples instanceof Uint8Array) || (channels !== 1 && channels !== 3)) return null
  const halfWidth = width >> 1
  const halfHeight = Math.floor(samples.length / channels / width) >> 1
  if (channels === 1) return halveBytes({ width, height: samples.length / width, data: samples })
  const data = new Uint8Array(halfWidth * halfHeight)
  let to = 0
  for (let y = 0; y < halfHeight; y++) {
    let a = 6 * y * width
    let b = a + 3 * width
    for (let x = 0; x < halfWidth; x++, a += 6, b += 6, to++) {
      const red = samples[a]! + samples[a + 3]! + samples[b]! + samples[b + 3]!
      const green = samples[a + 1]! + samples[a + 4]! + samples[b + 1]! + samples[b + 4]!
      const blue = samples[a + 2]! + samples[a + 5]! + samples[b + 2]! + samples[b + 5]!
      data[to] = lumaSum(red, green, blue) * 0.00025 + 0.5
    }
  }
  return { width: halfWidth, height: halfHeight, data }
}

/** A picture at half size: means of 2 x 2 pixels, rounded; a point (x, y) goes to (x/2, y/2). */
export function halveBytes(image: ByteImage): ByteImage {
  const width = image.width >> 1
  const height = image.height >> 1
  const data = new Uint8Array(width * height)
  const from = image.data
  let to = 0
  for (let y = 0; y < height; y++) {
    let a = 2 * y * image.width
    let b = a + image.width
    for (let x = 0; x < width; x++, a += 2, b += 2, to++)
      data[to] = (from[a]! + from[a + 1]! + from[b]! + from[b + 1]! + 2) >> 2
  }
  return { width, height, data }
}

function lumaSum(red: number, green: number, blue: number): number {
  return 299 * red + 587 * green + 114 * blue
}
