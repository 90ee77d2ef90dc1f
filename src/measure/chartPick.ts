import type { ChartFit } from '../chart/fitChart.js'
import type { Pick } from './pick.js'

/** What the modelled chart itself is trusted to, as a share of the frame's size: this project's convention (camera and model disagree by 0.001 to 0.02 % in simulated stills). */
const MODEL_FREEDOM_REL = 0.0001
/**
 * Beyond this blur the fit's own covariance is too small: its intervals held 81 to 87 of 100 simulated corners at a blur of 1.5 px. They are widened
 * so that 95 hold: this project's convention.
 */
const BLURRED_FROM_PX = 1
const BLURRED_WIDENING = 1.5

/**
 * The frame's corners as a pick: method `found`, with the fit's covariance in the order x1, y1 ... y4 (px^2), and a little more on its diagonal
 * for what no model of a chart gets right. `sigmaPx` is the mean per axis.
 */
export function chartPick(fit: {
  readonly corners: ChartFit['corners']
  readonly covariancePx2: ChartFit['covariancePx2']
  readonly blurSigmaPx: number
}): Pick & { readonly kind: 'corners' } {
  const [a, , c] = fit.corners
  const freedom = (MODEL_FREEDOM_REL * Math.hypot(a[0] - c[0], a[1] - c[1])) ** 2
  const widening = fit.blurSigmaPx > BLURRED_FROM_PX ? BLURRED_WIDENING ** 2 : 1
  const covariancePx2 = fit.covariancePx2.map((row, i) =>
    row.map((value, j) => value * widening + (i === j ? freedom : 0)),
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
