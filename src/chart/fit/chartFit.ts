import { APERTURE_VARIANCE, BLUR_X, BLUR_Y, INK, MODEL_PARAMETERS, PAPER, SHIFT } from './chartParameters.js'
import type { FlatView } from '../../lens/flatView.js'
import type { Quad } from '../../math/point.js'
import type { FittedHalo } from './fitHalo.js'
import type { Homography } from '../../math/homography.js'
import type { TrimmedSides } from './trimmedSides.js'

/** A Gaussian blur without the pixel's aperture, px, and its standard uncertainty. */
export interface FittedBlur {
  readonly sigmaPx: number
  readonly u: number
}

/** The modelled chart at rest on a still's pixels. Image coordinates in px, of the flat view where it was fitted in one. */
export interface ChartDraft {
  /** The flat view through a lens that it was fitted in; null where as it lies in the still. */
  readonly view: FlatView | null
  readonly map: Homography
  readonly corners: Quad
  /** Blur across upright edges and across level ones (of the picture), and one for both: the root of the mean square. */
  readonly blur: Readonly<Record<'upright' | 'level', Pick<FittedBlur, 'sigmaPx'>>>
  readonly blurSigmaPx: number
  /** How far every edge moved as ink spreads or light eats it, px; positive: ink grew. */
  readonly edgeShiftPx: number
  /** Levels in linear light at the chart's middle, 1 = white of the code values. */
  readonly paper: number
  readonly ink: number
  /** Sides of the paper's margin that are not to be seen and were left out. */
  readonly trimmed: TrimmedSides
}

/** The whole modelled chart fitted to a still's pixels. */
export interface ChartFit extends ChartDraft {
  /** Covariance of the corners x1, y1, ... y4, px^2, from the residuals' scatter and how they hang together. */
  readonly covariancePx2: readonly (readonly number[])[]
  readonly blur: Readonly<Record<'upright' | 'level', FittedBlur>>
  /** The halo of the camera's sharpening, where one was looked for and found; the blurs are then those beneath it. */
  readonly halo: FittedHalo | null
  /** True where the light falls unevenly: it is then read place by place where that explains the picture. */
  readonly unevenLight: boolean
  /** Standard deviation of the residuals, code values. */
  readonly residualDn: number
  /** Correlation of the fitted pixels with the model, in code values; share of the pixels kept as no outliers. */
  readonly correlation: number
  readonly kept: number
  readonly pixels: number
}

export type NoFit = 'not-determined' | 'not-converged' | 'too-blurred'

/** What can be told beforehand. */
export interface FitOptions {
  readonly face: number
  /** First guess of the blur, px. */
  readonly blurSigmaPx?: number
  /** Steps after which it gives up, 40 when left out. */
  readonly mostSteps?: number
  /** Whether the light is read place by place where it falls unevenly; false when left out, as clutter can be explained by it. */
  readonly unevenLight?: boolean
  /** Whether a halo of sharpening is looked for; false when left out. */
  readonly halo?: boolean
  /** The flat view through a lens to fit it in, `start` being a map to there; as it lies in the still when left out. */
  readonly view?: FlatView | null
}

/** The model's parameters that draw a chart at rest: its corners (px), the blurs with the pixel's aperture, the edge shift, its levels. */
export function parametersOf(fit: ChartDraft): Float64Array {
  const parameters = new Float64Array(MODEL_PARAMETERS)
  fit.corners.forEach((corner, k) => parameters.set(corner, 2 * k))
  parameters[BLUR_X] = Math.sqrt(fit.blur.upright.sigmaPx ** 2 + APERTURE_VARIANCE)
  parameters[BLUR_Y] = Math.sqrt(fit.blur.level.sigmaPx ** 2 + APERTURE_VARIANCE)
  parameters[SHIFT] = fit.edgeShiftPx
  parameters[PAPER] = fit.paper
  parameters[INK] = fit.ink
  return parameters
}
