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
    for (let pixel = 0, at = 1; pixel < pixels; pixel++, at += 3) data[pixel] = samples[at]!
    return { ...size, data }
  }
  const exact = lumaOf(samples, channels, fullScale)
  for (let pixel = 0; pixel < pixels; pixel++) data[pixel] = exact[pixel]! + 0.5
  return { ...size, data }
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
  let to = 0
  for (let y = 0; y < halfHeight; y++) {
    let a = 6 * y * width + 1
    let b = a + 3 * width
    for (let x = 0; x < halfWidth; x++, a += 6, b += 6, to++)
      data[to] = (samples[a]! + samples[a + 3]! + samples[b]! + samples[b + 3]! + 2) >> 2
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
