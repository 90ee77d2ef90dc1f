import type { Samples } from './turn.js'

/**
 * Luma code values 0..255 of interleaved samples of 1 (grey), 2 (grey, opacity), 3 (RGB) or 4 (RGB, opacity) channels, `fullScale`
 * being the sample at white. Luma is Y' = (299 R' + 587 G' + 114 B')/1000 of the encoded values (ITU-R BT.601, as JFIF has it): what a
 * JPEG itself carries at full resolution, while its colours are often stored at half; and a neutral pixel comes out exactly.
 * Where a pixel is not opaque it is laid over white, as a viewer lays it on paper.
 */
export function lumaOf(samples: Samples, channels: number, fullScale: number): Float32Array {
  const pixels = Math.floor(samples.length / channels)
  const luma = new Float32Array(pixels)
  const coloured = channels >= 3
  const transparent = channels === 2 || channels === 4
  const step = fullScale / 255
  for (let pixel = 0, at = 0; pixel < pixels; pixel++, at += channels) {
    const value = coloured
      ? (299 * samples[at]! + 587 * samples[at + 1]! + 114 * samples[at + 2]!) / (1000 * step)
      : samples[at]! / step
    if (!transparent) {
      luma[pixel] = value
    } else {
      const opacity = samples[at + channels - 1]! / fullScale
      luma[pixel] = value * opacity + 255 * (1 - opacity)
    }
  }
  return luma
}

/** 8-bit RGB of samples of 1 to 4 channels, laid over white where not opaque. */
export function coloursOf(samples: Samples, channels: number, fullScale: number): Buffer {
  const pixels = Math.floor(samples.length / channels)
  const colours = Buffer.alloc(pixels * 3)
  const step = fullScale / 255
  const transparent = channels === 2 || channels === 4
  for (let pixel = 0; pixel < pixels; pixel++) {
    const at = pixel * channels
    const opacity = transparent ? samples[at + channels - 1]! / fullScale : 1
    for (let colour = 0; colour < 3; colour++) {
      const value = samples[at + (channels >= 3 ? colour : 0)]! / step
      colours[pixel * 3 + colour] = Math.round(value * opacity + 255 * (1 - opacity))
    }
  }
  return colours
}
