import { halveBytes, type ByteImage } from '../../still/searchBytes.js'
import { noiseScale } from '../match/greyImage.js'
import type { SearchPicture } from './searchPicture.js'

/** One scale of a still: halved `level` times. */
export interface SearchScale {
  readonly image: ByteImage
  /** The picture halved once more. */
  readonly half: ByteImage
  readonly level: number
  /** Noise of its pixels, code values. */
  readonly noiseDn: number
  /** Noise variance of a bilinear sample: 4/9 of a pixel's, the mean over all places between four pixels. */
  readonly sampleVariance: number
}

/** Coarsest scale: its shorter side is at least this, px. */
const COARSEST_SIDE = 24

/** The scales of a still; its own, level 0, is made when it is first asked for. */
export interface SearchScales {
  readonly count: number
  at(level: number): SearchScale
}

/** The scales of a still, from its own to the coarsest. */
export function searchScales(picture: SearchPicture): SearchScales {
  const images: ByteImage[] = [picture.halfSearchBytes()]
  let count = 1
  for (let side = Math.min(picture.width, picture.height); side >= 2 * COARSEST_SIDE; side /= 2) count += 1
  for (let level = 2; level <= count; level += 1) images.push(halveBytes(images[level - 2]!))
  const scales: (SearchScale | undefined)[] = []
  return {
    count,
    at: (level) =>
      (scales[level] ??= searchScale(
        level === 0 ? picture.searchBytes() : images[level - 1]!,
        images[level]!,
        level,
      )),
  }
}

function searchScale(image: ByteImage, half: ByteImage, level: number): SearchScale {
  const noiseDn = noiseScale(image)
  return { image, half, level, noiseDn, sampleVariance: (4 / 9) * noiseDn ** 2 }
}
