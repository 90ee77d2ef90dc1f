import type { Samples } from './turn.js'

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
