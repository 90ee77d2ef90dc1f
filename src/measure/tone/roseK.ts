import { coverageFactor } from '../../math/quantiles.js'
import { edgeAperture, edgeResponse, type EdgeResponse } from '../edge/edgeResponse.js'
import type { GroundNoise } from './groundNoise.js'
import { ROUNDING_NOISE_CODE } from './noise.js'
import type { RoseK } from '../stillMeasurement.js'

/** Ground smaller than so many squares of a quarter of an element's side tells no k of it: this project's convention. */
const LEAST_SQUARES = 8
const SMALLER_TIMES = 4
/** Noise that neighbours take from each other leaves at least this share of an element's own. This project's convention. */
const LEAST_NOISE_SHARE = 0.1
/** From so much on an element stands out (Rose 1948). */
const ENOUGH_K = 5
/** Samples a pixel that an element's profile is summed on. */
const FINE = 8

/** The two levels of a reference, the blur they were seen through, and the noise of its even areas. */
export interface RoseGround {
  /** Difference of the two levels, code values, and its standard uncertainty. */
  readonly contrastCode: number
  readonly contrastU: number
  /** Blur of the still, px: what is likely, and the least and the most it may be; null where the levels came through none, as in a check without a camera. */
  readonly blurPx: { readonly value: number; readonly least: number; readonly most: number } | null
  /** Whether the levels were read clear of every border: else the blur has taken its part of them already. */
  readonly areLevelsClear: boolean
  readonly noise: GroundNoise
  /** Whether the noise may have strokes in it: it is then the most there can be. */
  readonly isNoiseBound: boolean
}

/**
 * Rose's k of a square `elementPx` wide on the still: the signal-to-noise ratio of a filter matched to the square as the still draws it, in code values (where camera
 * noise is even): k^2 = (sum s^2)^2 / sum s C s, s being the square through blur and pixel, its mean over all places on the pixel grid, and C the noise's covariance. By
 * Parseval that is (int S^2 MTF^2)^2 / int S^2 MTF^2 N. Not whitened: nobody's eye is. In white noise without blur it is the levels' difference over the noise times
 * the square's side. Null where the ground is too small. `k` and `U` (95 %) make the interval of all that is open.
 * Sources: A. Rose, J. Opt. Soc. Am. 38 (1948) 196; A. E. Burgess, J. Opt. Soc. Am. A 16 (1999) 633.
 */
export function roseK(ground: RoseGround, elementPx: number): RoseK | null {
  const { contrastCode, contrastU, blurPx, areLevelsClear, noise, isNoiseBound } = ground
  if (noise.pixels < LEAST_SQUARES * Math.max(1, elementPx / SMALLER_TIMES) ** 2) return null
  const likely = standing(noise, elementPx, blurPx?.value ?? null)
  const ends =
    blurPx === null ? [likely] : [blurPx.least, blurPx.most].map((px) => standing(noise, elementPx, px))
  const most = areLevelsClear ? Math.max(likely, ...ends) : standing(noise, elementPx, null)
  const least = Math.min(likely, ...ends)
  const sigma = Math.max(ROUNDING_NOISE_CODE, Math.sqrt(noise.variance))
  const rel = 1 / Math.sqrt(2 * noise.pixels)
  const open = coverageFactor(Infinity) * Math.hypot(contrastU, contrastCode * rel)
  const low = (least / sigma) * (contrastCode - open)
  const high = (most / sigma) * (contrastCode + open)
  // Of noise that is only bounded k is the least there can be: enough, or nothing is told.
  if (isNoiseBound && low < ENOUGH_K) return null
  return { k: (low + high) / 2, U: (high - low) / 2 }
}

/** k of a square of contrast 1 in noise of variance 1; without any blur where `blurPx` is null. */
function standing(noise: GroundNoise, elementPx: number, blurPx: number | null): number {
  if (blurPx === null) {
    // Under a pixel the square fills but its share of one.
    const side = Math.min(elementPx, elementPx ** 2)
    const [across, down] = [noise.across, noise.down].map((shares) =>
      shared(shares, (lag) => side * Math.max(0, 1 - lag / elementPx)),
    ) as [number, number]
    return side ** 2 / Math.sqrt(across * down)
  }
  const profile = blurredSide(elementPx, blurPx)
  const overlap = (lag: number): number => {
    let sum = 0
    for (let at = lag * FINE; at < profile.length; at += 1) sum += profile[at]! * profile[at - lag * FINE]!
    return sum / FINE
  }
  const energy = overlap(0)
  return energy ** 2 / Math.sqrt(shared(noise.across, overlap) * shared(noise.down, overlap))
}

/** The noise that a profile gathers along one axis. */
function shared(shares: readonly number[], overlap: (lag: number) => number): number {
  const own = overlap(0)
  const sum = shares.reduce((total, share, lag) => total + (lag === 0 ? 1 : 2) * share * overlap(lag), 0)
  return Math.max(LEAST_NOISE_SHARE * own, sum)
}

/** A side of the square, `widthPx` long, through a Gaussian of `sigmaPx` and the pixel: its values FINE a pixel. */
function blurredSide(widthPx: number, sigmaPx: number): Float64Array {
  const reachPx = widthPx / 2 + 4 * sigmaPx + 1
  const edge: EdgeResponse = { value: 0, byDistance: 0, bySigma: 0 }
  const aperture = edgeAperture(1, 0)
  const response = (at: number): number => {
    edgeResponse(at, sigmaPx, aperture, edge)
    return edge.value
  }
  return Float64Array.from({ length: Math.ceil(2 * reachPx * FINE) }, (_, index) => {
    const at = (index + 0.5) / FINE - reachPx
    return response(at + widthPx / 2) - response(at - widthPx / 2)
  })
}
