import { power } from '../../math/power.js'
import type { Random } from '../../math/random.js'
import type { ByteImage } from '../camera/codeImage.js'
import { srgbEncoder } from '../camera/encodeSrgb.js'
import type { Exposure } from '../camera/exposeImage.js'
import type { LinearImage } from '../camera/linearImage.js'

/** Whole code values of a picture at a gain, without noise. */
export function encodeBackdrop(image: LinearImage, gain: number): ByteImage {
  const encode = srgbEncoder()
  const data = new Uint8ClampedArray(image.data.length)
  for (let at = 0; at < data.length; at += 1) data[at] = encode(image.data[at]! * gain)
  return { width: image.width, height: image.height, channels: image.channels, data }
}

/** Normals that are drawn once and read on from a random place in every row: enough for grain that nobody measures. */
const GRAIN_SIZE = 65_536

/** A copy with the exposure's noise laid over it: `exposeImage` made cheap for what is only looked at. */
export function grainBackdrop(image: ByteImage, exposure: Exposure, random: Random): ByteImage {
  const { channels } = image
  const grain = Float32Array.from({ length: GRAIN_SIZE }, () => random.normal())
  const sigma = Float32Array.from({ length: 256 }, (_, code) =>
    Math.sqrt(exposure.readNoiseDn ** 2 + exposure.shotNoiseDn ** 2 * power(code / 255, 2.2)),
  )
  const data = new Uint8ClampedArray(image.data.length)
  const middle = channels === 3 ? 1 : 0
  for (let y = 0; y < image.height; y += 1) {
    let pick = Math.floor(random.uniform() * GRAIN_SIZE)
    const end = (y + 1) * image.width * channels
    for (let at = y * image.width * channels; at < end; at += channels) {
      pick = (pick + 1) % GRAIN_SIZE
      const noise = sigma[image.data[at + middle]!]! * grain[pick]!
      for (let channel = at; channel < at + channels; channel += 1)
        data[channel] = image.data[channel]! + noise
    }
  }
  return { ...image, data }
}
