import type { ChartFit } from '../chart/fitChart.js'
import type { Pick } from './pick.js'

/**
 * What JPEG does at edges and the residuals do not show: standard deviation per coordinate, px. Without JPEG the intervals of simulated stills hold
 * without it; at quality 88 by day they held 92 of 100. This project's convention.
 */
const JPEG_PX = 0.003

/** What a shadow's own edge across the chart leaves, standard deviation per coordinate, px: half shadows at a half and a quarter of the light moved densities by 0.02 to 0.3 %. This project's convention. */
const UNEVEN_PX = 0.06

/** The frame's corners as a pick: method `found`, with the fit's covariance in the order x1, y1 ... y4 (px^2). `sigmaPx` is the mean per axis. */
export function chartPick(fit: {
  readonly corners: ChartFit['corners']
  readonly covariancePx2: ChartFit['covariancePx2']
  readonly unevenLight?: boolean
}): Pick & { readonly kind: 'corners' } {
  const { corners } = fit
  const free = JPEG_PX ** 2 + (fit.unevenLight === true ? UNEVEN_PX ** 2 : 0)
  const covariancePx2 = fit.covariancePx2.map((row, i) =>
    row.map((value, j) => (i === j ? value + free : value)),
  )
  const trace = covariancePx2.reduce((sum, row, i) => sum + row[i]!, 0)
  return { kind: 'corners', method: 'found', corners, sigmaPx: Math.sqrt(trace / 8), covariancePx2 }
}
