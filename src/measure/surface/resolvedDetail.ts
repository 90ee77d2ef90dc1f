import type { Estimate } from '../../math/interval.js'
import type { Density, Sharpness } from '../stillMeasurement.js'

/**
 * Detail on the reference, cycles per metre: f10 of the lower direction x onTarget. No enlarging raises it. The uncertainties of f10 and of the density are independent, so each end
 * adds them in quadrature (JCGM 100, 5.1.2); f10's is that of the factor, relative.
 */
export function resolvedDetail(
  { onTarget, low, high }: Pick<Density, 'onTarget' | 'low' | 'high'>,
  {
    horizontal,
    vertical,
    factor,
    factorU,
  }: Pick<Sharpness, 'horizontal' | 'vertical' | 'factor' | 'factorU'>,
): Estimate {
  const value = Math.min(horizontal.mtf10, vertical.mtf10) * onTarget
  const detailRel = factor > 0 ? factorU / factor : 1
  return {
    value,
    low: Math.max(0, value * (1 - Math.hypot(1 - low / onTarget, detailRel))),
    high: value * (1 + Math.hypot(high / onTarget - 1, detailRel)),
  }
}
