import type { Estimate } from '../../math/interval.js'
import type { Density, Sharpness } from '../stillMeasurement.js'

/**
 * Density after pixels that carry no detail are discounted, px/m: onTarget x factor. The two uncertainties are independent (the one is
 * of the corners and the size, the other of the edges' blur), so each end adds them in quadrature (JCGM 100, 5.1.2). The factor never
 * exceeds 1, which bounds the upper end.
 */
export function effectiveDensity(
  density: Pick<Density, 'onTarget' | 'low' | 'high'>,
  sharpness: Pick<Sharpness, 'factor' | 'factorU'>,
): Estimate {
  const { onTarget, low, high } = density
  const { factor, factorU } = sharpness
  const below = Math.hypot(factor * (onTarget - low), onTarget * factorU)
  const above = Math.hypot(factor * (high - onTarget), onTarget * Math.min(factorU, 1 - factor))
  const value = onTarget * factor
  return { value, low: Math.max(0, value - below), high: value + above }
}
