import type { Random } from '../../math/random.js'
import { blurImage } from './blurImage.js'
import type { CodeImage } from './codeImage.js'
import { srgbEncoder } from './encodeSrgb.js'
import type { LinearImage } from './linearImage.js'

/** What a camera makes of light. */
export interface Exposure {
  /** Linear light times this is 1 at white. */
  readonly gain: number
  /** Standard deviation of noise in code values: sqrt(read^2 + shot^2 x level), level being linear light at gain, 0..1. */
  readonly readNoiseDn: number
  readonly shotNoiseDn: number
  /** Noise reduction: a share of each pixel is replaced by its Gaussian neighbourhood. */
  readonly denoise?: { readonly sigmaPx: number; readonly share: number }
  /** Unsharp mask: `amount` times the difference to a Gaussian neighbourhood is added. */
  readonly sharpen?: { readonly sigmaPx: number; readonly amount: number }
}

/**
 * Code values (0..255, not yet whole) of a picture: gain, sRGB encoding, noise in code values, clipping at black and white,
 * then noise reduction and sharpening, clipped again. The channels of a pixel share one draw, so that luma carries the stated noise.
 */
export function exposeImage(image: LinearImage, exposure: Exposure, random: Random): CodeImage {
  const encode = srgbEncoder()
  const { channels } = image
  const data = new Float32Array(image.data.length)
  const read = exposure.readNoiseDn ** 2
  const shot = exposure.shotNoiseDn ** 2
  const noisy = read + shot > 0
  for (let at = 0; at < data.length; at += channels) {
    const middle = image.data[at + (channels === 3 ? 1 : 0)]! * exposure.gain
    const noise = noisy ? Math.sqrt(read + shot * Math.min(1, Math.max(0, middle))) * random.normal() : 0
    for (let channel = at; channel < at + channels; channel += 1) {
      data[channel] = clipped(encode(image.data[channel]! * exposure.gain) + noise)
    }
  }
  const raw: CodeImage = {
    left: image.left,
    top: image.top,
    width: image.width,
    height: image.height,
    channels,
    data,
  }
  const { denoise, sharpen } = exposure
  const calm = denoise === undefined ? raw : mix(raw, blurImage(raw, denoise.sigmaPx), denoise.share)
  return sharpen === undefined ? calm : mix(calm, blurImage(calm, sharpen.sigmaPx), -sharpen.amount)
}

function clipped(code: number): number {
  return code < 0 ? 0 : code > 255 ? 255 : code
}

/** a + share (b - a), clipped. */
function mix(a: CodeImage, b: CodeImage, share: number): CodeImage {
  return { ...a, data: a.data.map((value, index) => clipped(value + share * (b.data[index]! - value))) }
}
