import { linearFromCode } from '../../math/srgb.js'
import type { ToneExponent } from '../stillMeasurement.js'
import type { ToneStrip } from './toneStrip.js'
import { power } from '../../math/power.js'

/** Light (ink 0, paper 1) to which print and reading leave a level of the strip open (rectangular): this project's convention. */
const LEVEL_LIGHT = 0.012

/**
 * The exponent by which a camera's tone curve departs from sRGB's, from the strip's three levels between ink and paper by least squares. What a power does not
 * describe, as of an S-shaped curve, is in its uncertainty.
 */
export function toneExponent({ codes, lights }: Pick<ToneStrip, 'codes' | 'lights'>): ToneExponent {
  const sharesAt = (ln: number): number[] => {
    const light = codes.map((code) => linearFromCode(255 * power(code / 255, Math.exp(-ln))))
    return [1, 2, 3].map((k) => (light[k]! - light[0]!) / (light[4]! - light[0]!))
  }
  const sum = (values: readonly number[]): number => values.reduce((total, each) => total + each, 0)
  let ln = 0
  for (let step = 0; ; step += 1) {
    const shares = sharesAt(ln)
    const slopes = sharesAt(ln + 1e-4).map((share, k) => (share - shares[k]!) / 1e-4)
    const off = shares.map((share, k) => lights[k + 1]! - share)
    const squares = sum(slopes.map((slope) => slope ** 2))
    if (step === 6) {
      const scatter = Math.sqrt(sum(off.map((each) => each ** 2)) / 2)
      const u = (Math.hypot(LEVEL_LIGHT / Math.sqrt(3), scatter) * sum(slopes.map(Math.abs))) / squares
      return { ln, u }
    }
    ln += sum(slopes.map((slope, k) => slope * off[k]!)) / squares
  }
}
