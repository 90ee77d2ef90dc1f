import type { Interval } from '../math/interval.js'
import { normalQuantile } from '../math/quantiles.js'

/**
 * The 95 % interval of a share of which `right` of `asked` > 0 were seen, by scores and without a correction for continuity (E. B. Wilson, J. Am. Stat. Assoc. 22
 * (1927) 209). It takes the answers to be independent; `z`: how many of its own standard deviations it reaches to.
 */
export function wilson(right: number, asked: number, z = normalQuantile(0.975)): Interval {
  const middle = right + (z * z) / 2
  const reach = z * Math.sqrt((right * (asked - right)) / asked + (z * z) / 4)
  const whole = asked + z * z
  return {
    low: right <= 0 ? 0 : (middle - reach) / whole,
    high: right >= asked ? 1 : (middle + reach) / whole,
  }
}
