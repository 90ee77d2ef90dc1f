import type { ChartFit } from './fit/chartFit.js'
import { APERTURE_VARIANCE, BLUR_X, BLUR_Y, MODEL_PARAMETERS, SHIFT } from './fit/chartParameters.js'

/** The model's parameters that draw a fitted chart: its corners (px), the blurs with the pixel's aperture, the edge shift. Its levels are left at 0. */
export function parametersOfFit(fit: ChartFit): Float64Array {
  const parameters = new Float64Array(MODEL_PARAMETERS)
  fit.corners.forEach((corner, k) => parameters.set(corner, 2 * k))
  parameters[BLUR_X] = Math.sqrt(fit.blur.upright.sigmaPx ** 2 + APERTURE_VARIANCE)
  parameters[BLUR_Y] = Math.sqrt(fit.blur.level.sigmaPx ** 2 + APERTURE_VARIANCE)
  parameters[SHIFT] = fit.edgeShiftPx
  return parameters
}
