import { BAND_NODES } from './stripBands.js'
import type { StripNoise } from './stripNoise.js'

const FREQUENCIES = 128
/** The least k at which strokes of 24 % contrast were read, at most 5 % passed unread and 10 % failed read: this project's measurement on simulated stills. */
export const LEAST_STRIP_K = 2.2

/** Response at a frequency, cycles per px: straight between the nodes, the lowest node's down to 0. */
export function responseAt(response: readonly number[], frequency: number): number {
  if (frequency <= BAND_NODES[0]) return response[0]!
  const above = BAND_NODES.findIndex((node) => node >= frequency)
  if (above < 0) return response.at(-1)!
  const [from, to] = [BAND_NODES[above - 1]!, BAND_NODES[above]!]
  const share = (frequency - from) / (to - from)
  return response[above - 1]! + share * (response[above]! - response[above - 1]!)
}

/**
 * Signal-to-noise ratio of a matched filter, not whitened, for a square that is `contrast` (linear light) darker than its ground and `alongPx` by `acrossPx` px:
 * k^2 = (sum S^2 R^2)^2 / sum S^2 R^2 N. `power`: the response squared at the bands' nodes, in both directions. In white noise without blur it is
 * Rose's k (A. Rose, J. Opt. Soc. Am. 38 (1948) 196; A. E. Burgess, J. Opt. Soc. Am. A 16 (1999) 633).
 */
export function matchedK(
  contrast: number,
  size: { readonly alongPx: number; readonly acrossPx: number },
  power: readonly number[],
  noise: StripNoise,
): number {
  const along = oneWay(size.alongPx, power, noise.along)
  const across = oneWay(size.acrossPx, power, noise.across)
  const signal = contrast ** 2 * along.signal * across.signal
  if (!(signal > 0)) return 0
  return signal / Math.sqrt(contrast ** 2 * along.noisy * across.noisy * noise.variance)
}

/** Sums over one direction's frequencies: of S^2 R^2, and of that times the noise's spectrum. */
function oneWay(
  sizePx: number,
  power: readonly number[],
  correlation: readonly number[],
): { signal: number; noisy: number } {
  let [signal, noisy] = [0, 0]
  for (let n = 0; n < FREQUENCIES; n += 1) {
    const frequency = (n < FREQUENCIES / 2 ? n : n - FREQUENCIES) / FREQUENCIES
    const x = Math.PI * frequency * sizePx
    const square = (sizePx * (Math.abs(x) < 1e-9 ? 1 : Math.sin(x) / x)) ** 2
    const passed = square * Math.max(0, responseAt(power, Math.abs(frequency)))
    const spectrum = correlation.reduce(
      (sum, value, lag) => sum + (lag === 0 ? 1 : 2) * value * Math.cos(2 * Math.PI * frequency * lag),
      0,
    )
    signal += passed / FREQUENCIES
    noisy += (passed * Math.max(0, spectrum)) / FREQUENCIES
  }
  return { signal, noisy }
}
