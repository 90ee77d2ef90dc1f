import { choleskyInverse } from '../../math/cholesky.js'
import type { Homography } from '../../math/homography.js'
import { quadratic } from '../../math/normalEquations.js'
import { failure, success, type Outcome } from '../../math/outcome.js'
import type { GreyImage } from '../match/greyImage.js'
import { modulePx } from '../printed/chartGeometry.js'
import { chartSays } from '../sentences.js'
import type { ChartDraft, ChartFit, FitOptions, FittedBlur, NoFit } from './chartFit.js'
import {
  APERTURE_VARIANCE,
  BLUR_X,
  BLUR_Y,
  meanBlur,
  MODEL_PARAMETERS,
  modelCorners,
  modelMap,
} from './chartParameters.js'
import type { ChartScene } from './chartScene.js'
import { chartAtRest, draftChart, type DraftedChart } from './draftChart.js'
import { fitHalo, type FittedHalo } from './fitHalo.js'
import { modelCorrelation } from './outlierWeights.js'
import { blockScatter, residualWidening } from './residualWidening.js'
import { underUnevenLight } from './unevenLight.js'

/** From this blur on, modules, what lies behind the sheet, which is not one even light a side, widens the corners: this project's convention, set on simulated stills. */
const SURROUND_FREE = 0.35
const SURROUND_WIDENING = 9
/**
 * Noise that hangs together so much, and is so large for it (share of the picture's own deviation), is a codec's or a denoiser's, which treat blocks of pixels as one: what blocks
 * tell counts then, some more as few tell it, up to so many times more. Edges of unlike contrast they move against each other by up to so much (standard deviation per coordinate,
 * px), which no block tells: all of it from the second size on. Set on coded clips, of which 58 to 78 of 100 intervals held at night without it. This project's convention.
 */
const TREATED_FROM = 1.2
const TREATED_SHARES = [0.055, 0.105] as const
const BY_BLOCKS = 1.2
const MOST_BY_BLOCKS = 6
const TREATED_PX = 0.025
/** What a halo of another shape than the fitted one moves corners by, standard deviation per coordinate, px: without it 73 of 100 intervals held behind unsharp masks without a codec. */
const HALO_PX = 0.01

/**
 * Least squares of the modelled chart (homography, a Gaussian blur per direction, one common edge shift, two levels and the slopes of the light,
 * in linear light, encoded by sRGB and clipped) over the pixels of its field, with outliers left out. `start` takes modules to px, or is a chart at rest nearby.
 */
export function fitChart(
  image: GreyImage,
  start: Homography | ChartDraft,
  options: FitOptions,
): Outcome<ChartFit, NoFit> {
  const draft = draftChart(image, start, options)
  return draft.ok ? finishChart(draft.value, options) : draft
}

/** The second part of a fit: uneven light read place by place, a halo looked for, and how sure it all is. */
export function finishChart(draft: DraftedChart, options: FitOptions): Outcome<ChartFit, NoFit> {
  const { scene, descent, limits, chart, isUneven } = draft
  const { parameters } = descent
  const lit = isUneven ? underUnevenLight(scene, descent, limits) : null
  const sharpened = options.halo === true ? fitHalo(scene, descent, limits.mostSteps) : null
  const { matrix, sum } = (sharpened ?? lit ?? draft).sums
  const inverse = choleskyInverse(matrix, MODEL_PARAMETERS)
  if (inverse === null) return failure(chartSays['too-faint']())
  const used = scene.weights.reduce((a, b) => a + b, 0)
  const variance = sum / Math.max(1, used - MODEL_PARAMETERS)
  return success({
    ...chartAtRest(parameters, chart.view, chart.trimmed),
    ...uncertainParts(scene, parameters, { matrix, inverse, variance }, sharpened?.halo ?? null),
    halo: sharpened?.halo ?? null,
    unevenLight: isUneven,
    residualDn: Math.sqrt(variance),
    correlation: modelCorrelation(scene.pixels.code, scene.residuals, scene.weights),
    kept: used / openPixels(scene),
    pixels: scene.pixels.count,
  })
}

/** The corners' covariance and both blurs, widened by what the residuals have in common, by stray light and by a halo. */
function uncertainParts(
  scene: ChartScene,
  parameters: Float64Array,
  normal: Normal,
  halo: FittedHalo | null,
): Pick<ChartFit, 'covariancePx2' | 'blur'> {
  const p = MODEL_PARAMETERS
  const { inverse, variance } = normal
  const { widened, treated } = widenings(scene, parameters, normal)
  const [across, along, blurX, blurY] = widened
  const [haloPx, haloSpreadPx] = halo === null ? [0, 0] : [HALO_PX, halo.blurSpreadPx]
  const strayBlur = meanBlur(parameters) / modulePx(modelMap(parameters)) - SURROUND_FREE
  const strayLight = 1 + SURROUND_WIDENING * Math.max(0, strayBlur) ** 2
  const widening = ((across! + along!) / 2) * strayLight
  const blurOf = (k: number, widened: number): FittedBlur => {
    const sigmaPx = Math.sqrt(Math.max(0, parameters[k]! ** 2 - APERTURE_VARIANCE))
    const u = Math.hypot(Math.sqrt(inverse[k * p + k]! * variance * widened), haloSpreadPx)
    return { sigmaPx, u: (u * parameters[k]!) / Math.max(0.1, sigmaPx) }
  }
  return {
    covariancePx2: Array.from({ length: 8 }, (_, i) =>
      Array.from(
        { length: 8 },
        (__, j) =>
          inverse[i * p + j]! * variance * widening +
          (i === j ? (treated * TREATED_PX) ** 2 + haloPx ** 2 : 0),
      ),
    ),
    blur: { upright: blurOf(BLUR_X, blurX!), level: blurOf(BLUR_Y, blurY!) },
  }
}

/** The normal matrix with its priors, its inverse, and the residuals' variance. */
interface Normal {
  readonly matrix: Float64Array
  readonly inverse: Float64Array
  readonly variance: number
}

/** Widenings of the frame's width, its height and both blurs by what the residuals have in common, and how surely a codec or a denoiser treated them, 0 to 1. */
function widenings(
  scene: ChartScene,
  parameters: Float64Array,
  { matrix, inverse, variance }: Normal,
): { readonly widened: readonly number[]; readonly treated: number } {
  const p = MODEL_PARAMETERS
  const { count, column: x, row: y } = scene.pixels
  const slopes = new Float64Array(count * p)
  const gradient = new Float64Array(p)
  scene.set(parameters)
  for (let at = 0; at < count; at += 1) {
    scene.writeGradient(parameters, at, gradient)
    slopes.set(gradient, at * p)
  }
  const [a, b, c, d] = modelCorners(parameters)
  const wide = [b[0] + c[0] - a[0] - d[0], b[1] + c[1] - a[1] - d[1]] as const
  const high = [c[0] + d[0] - a[0] - b[0], c[1] + d[1] - a[1] - b[1]] as const
  const stretch = ([sx, sy]: readonly [number, number], signs: readonly number[]): Float64Array => {
    const direction = new Float64Array(p)
    signs.forEach((sign, k) => direction.set([sign * sx, sign * sy], 2 * k))
    return direction
  }
  const unit = (k: number): Float64Array => {
    const direction = new Float64Array(p)
    direction[k] = 1
    return direction
  }
  const { weights, residuals } = scene
  const fit = { x, y, weights, residuals, variance, size: p, slopes, inverse }
  const directions = [
    stretch(wide, [-1, 1, 1, -1]),
    stretch(high, [-1, -1, 1, 1]),
    unit(BLUR_X),
    unit(BLUR_Y),
  ]
  const beside = residualWidening(fit, directions)
  const together = (beside[0]! + beside[1]!) / 2
  const share = Math.sqrt((1 - modelCorrelation(scene.pixels.code, residuals, weights) ** 2) * together)
  const [least, most] = TREATED_SHARES
  const treated = together > TREATED_FROM ? Math.min(1, Math.max(0, (share - least) / (most - least))) : 0
  const blocks = treated > 0 ? blockScatter(fit, matrix, directions.slice(0, 2)) : null
  const widened = beside.map((widening, k) => {
    const byBlocks = blocks?.[k]
    if (byBlocks === undefined) return widening
    const white = variance * quadratic(inverse, directions[k]!)
    return Math.min(MOST_BY_BLOCKS * widening, Math.max(widening, (BY_BLOCKS * byBlocks) / white))
  })
  return { widened, treated }
}

/** Pixels that are neither blocked nor trimmed away. */
function openPixels({ blocked, trimmed }: ChartScene): number {
  let open = 0
  for (let at = 0; at < blocked.length; at += 1) if (blocked[at] === 0 && trimmed[at] === 0) open += 1
  return Math.max(1, open)
}
