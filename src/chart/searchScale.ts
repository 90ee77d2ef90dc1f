import { halveImage, noiseScale, type GreyImage } from './greyImage.js'

/** One scale of a still: halved `level` times. */
export interface SearchScale {
  readonly image: GreyImage
  /** The picture halved once more. */
  half(): GreyImage
  readonly level: number
  /** Noise of its pixels, code values. */
  readonly noiseDn: number
  /** Noise variance of a bilinear sample: 4/9 of a pixel's, the mean over all places between four pixels. */
  readonly sampleVariance: number
}

/** Coarsest scale: its shorter side is at least this, px. */
const COARSEST_SIDE = 48

/** The scales of a still, its own first. */
export function searchScales(image: GreyImage): SearchScale[] {
  const scales = [searchScale(image, 0)]
  for (let last = scales[0]!; Math.min(last.image.width, last.image.height) >= 2 * COARSEST_SIDE;) {
    last = searchScale(last.half(), scales.length)
    scales.push(last)
  }
  return scales
}

/** A picture as a scale of that level. */
export function searchScale(image: GreyImage, level: number): SearchScale {
  const noiseDn = noiseScale(image)
  let half: GreyImage | null = null
  return {
    image,
    half: () => (half ??= halveImage(image)),
    level,
    noiseDn,
    sampleVariance: (4 / 9) * noiseDn ** 2,
  }
}
