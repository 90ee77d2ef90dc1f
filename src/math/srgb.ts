// The one tone curve: sRGB's (IEC 61966-2-1), going on beyond white and, by its straight part, below black; who wants it held there holds its light.
import { power } from './power.js'

const LEAST_POWER_CODE = 0.04045 * 255
const LEAST_POWER_LINEAR = 0.0031308
/** The light of the codes a file of 8 bits holds: most pixels that are asked about. */
const OF_WHOLE_CODES = Float64Array.from({ length: 256 }, (_, code) => decoded(code))

/**
 * Linear light 0..1 of a code value 0..255 (values outside are extended along the same curve's ends).
 * Source: IEC 61966-2-1, decoding.
 */
export function linearFromCode(code: number): number {
  const whole = code & 255
  return whole === code ? OF_WHOLE_CODES[whole]! : decoded(code)
}

function decoded(code: number): number {
  const encoded = code / 255
  return code <= LEAST_POWER_CODE ? encoded / 12.92 : power((encoded + 0.055) / 1.055, 2.4)
}

/**
 * Code value 0..255 (with fractions) of linear light 0..1; beyond 1 the curve goes on, below 0 its straight part does.
 * Source: IEC 61966-2-1, encoding.
 */
export function codeFromLinear(linear: number): number {
  return linear <= LEAST_POWER_LINEAR ? 255 * 12.92 * linear : 255 * (1.055 * power(linear, 1 / 2.4) - 0.055)
}

/** Code values per unit of linear light at `linear`, whose code value is `code`: the slope of {@link codeFromLinear}. */
export function codeSlope(linear: number, code: number = codeFromLinear(linear)): number {
  return linear <= LEAST_POWER_LINEAR ? 255 * 12.92 : (code + 0.055 * 255) / (2.4 * linear)
}
