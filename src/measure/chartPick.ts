import type { ChartFit } from '../chart/fitChart.js'
import type { Pick } from './pick.js'

/** What the modelled chart itself is trusted to, as a share of the frame's size: this project's convention (camera and model disagree by 0.001 to 0.02 % in simulated stills). */
const MODEL_FREEDOM_REL = 0.0001

/**
 * The frame's corners as a pick: method `found`, with the fit's covariance in the order x1, y1 ... y4 (px^2), and a little more on its diagonal
 * for what no model of a chart gets right. `sigmaPx` is the mean per axis.
 */
export function chartPick(fit: {
  readonly corners: ChartFit['corners']
  readonly covariancePx2: ChartFit['covariancePx2']
}): Pick & { readonly kind: 'corners' } {
  const [a, , c] = fit.corners
  const freedom = (MODEL_FREEDOM_REL * Math.hypot(a[0] - c[0], a[1] - c[1])) ** 2
  const covariancePx2 = fit.covariancePx2.map((row, i) =>
    row.map((value, j) => (i === j ? value + freedom : value)),
  )
  const trace = covariancePx2.reduce((sum, row, i) => sum + row[i]!, 0)
  return {
    kind: 'corners',
    method: 'found',
    corners: fit.corners,
    sigmaPx: Math.sqrt(trace / 8),
    covariancePx2,
  }
}
