import type { ChartFit } from '../chart/fitChart.js'
import type { Pick } from './pick.js'

/** The frame's corners as a pick: method `found`, with the fit's covariance in the order x1, y1 ... y4 (px^2). `sigmaPx` is the mean per axis. */
export function chartPick(fit: {
  readonly corners: ChartFit['corners']
  readonly covariancePx2: ChartFit['covariancePx2']
}): Pick & { readonly kind: 'corners' } {
  const { corners, covariancePx2 } = fit
  const trace = covariancePx2.reduce((sum, row, i) => sum + row[i]!, 0)
  return { kind: 'corners', method: 'found', corners, sigmaPx: Math.sqrt(trace / 8), covariancePx2 }
}
