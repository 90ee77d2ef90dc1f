import { normalDensity, normalIntegral } from '../../math/normalIntegral.js'
import { codeFromLinear, codeSlope } from '../../math/srgb.js'

/** A code value and its slope against light. */
export interface SeenCode {
  code: number
  slope: number
}

/** Closer than so many noise deviations to black or white, clipping moves the mean. */
const CLIP_REACH = 3

/**
 * Writes the mean code value a camera gives for linear light, and its slope: sRGB's curve (IEC 61966-2-1), then noise of `noiseDn` code
 * values, then black and white cut off. In the dark, where ink lies within the noise of black, the cut lifts the mean; E max(0, m + n) for
 * normal n is m Phi(m/s) + s phi(m/s).
 */
export function seenCode(light: number, noiseDn: number, out: SeenCode): void {
  let code = codeFromLinear(light)
  let slope = codeSlope(light, code)
  if (code < CLIP_REACH * noiseDn) {
    const z = code / noiseDn
    const inside = normalIntegral(z)
    code = code * inside + noiseDn * normalDensity(z)
    slope *= inside
  } else if (code > 255 - CLIP_REACH * noiseDn) {
    const z = (255 - code) / noiseDn
    const inside = normalIntegral(z)
    code = 255 - (255 - code) * inside - noiseDn * normalDensity(z)
    slope *= inside
  }
  out.code = code
  out.slope = slope
}
