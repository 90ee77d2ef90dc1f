import { modulePx } from '../printed/chartGeometry.js'
import { choleskyInverse } from '../../math/cholesky.js'
import { failure, success, type Outcome } from '../../math/outcome.js'
import type { ChartFit, FitOptions, FittedBlur, NoFit } from './chartFit.js'
import { ChartModel } from './chartModel.js'
import {
  APERTURE_VARIANCE,
  BLUR_X,
  BLUR_Y,
  INK,
  meanBlur,
  MODEL_PARAMETERS,
  modelCorners,
  modelMap,
  PAPER,
  SHIFT,
} from './chartParameters.js'
import { ChartScene, emptySums, type NormalSums } from './chartScene.js'
import { descendChart, type ChartDescent } from './descendChart.js'
import { faceSums } from './faceSums.js'
import { fitHalo } from './fitHalo.js'
import { fitPixels, viewPlaces } from './fitPixels.js'
import { fitStart } from './fitStart.js'
import type { GreyImage } from '../match/greyImage.js'
import { modelCorrelation } from './outlierWeights.js'
import { inverseHomography, mapPoint, type Homography } from '../../math/homography.js'
import { isTrimmedAway, NONE_TRIMMED, trimmedSides, type TrimmedSides } from './trimmedSides.js'
import { lightIsUneven, underUnevenLight } from './unevenLight.js'
import { residualWidening } from './residualWidening.js'
import { contrastDn, weighScene } from './weighScene.js'
import { chartSays } from '../sentences.js'

/** Steps tried, refused ones among them. */
const MOST_STEPS = 80
const DAMPING = 1e-3
/** Looks at the margin, at most: leaving one side out may show another. */
const TRIMMED_ROUNDS = 2
/** A first descent over some of the pixels ends where a step moves every corner by less than this, the last one over all of them by less than that, px. */
const ROUGH_PX = 0.5
const NEAR_PX = 0.05
const SETTLED_PX = 3e-3
/** The chart is refused where its blur is over this share of a module: edges run into one another (chart trials). */
const MOST_BLUR_MODULES = 1.1
/** From this blur on, modules, what lies behind the sheet, which is not one even light a side, widens the corners: this project's convention, set on simulated stills. */
const SURROUND_FREE = 0.35
const SURROUND_WIDENING = 9

/**
 * Least squares of the modelled chart (homography, a Gaussian blur per direction, one common edge shift, two levels and the slopes of the light,
 * in linear light, encoded by sRGB and clipped) over the pixels of its field, with outliers left out. `start` takes modules to px.
 */
export function fitChart(image: GreyImage, start: Homography, options: FitOptions): Outcome<ChartFit, NoFit> {
  const staged = fitInStages(image, start, options)
  if (!staged.ok) return staged
  const { scene, descent, limits } = staged.value
  const seen =
    options.unevenLight === true
      ? fitAsLit(staged.value)
      : { sums: staged.value.sums, trimmed: NONE_TRIMMED, uneven: false }
  if (seen === null) return NOT_CONVERGED
  const { parameters } = descent
  const module = modulePx(modelMap(parameters))
  if (Math.max(parameters[BLUR_X]!, parameters[BLUR_Y]!) > MOST_BLUR_MODULES * module)
    return failure(chartSays['too-blurred']())
  const sharpened = options.halo === true ? fitHalo(scene, descent, limits.mostSteps) : null
  const { matrix, sum } = sharpened?.sums ?? seen.sums
  const inverse = choleskyInverse(matrix, MODEL_PARAMETERS)
  if (inverse === null) return TOO_FAINT
  const used = scene.weights.reduce((a, b) => a + b, 0)
  const variance = sum / Math.max(1, used - MODEL_PARAMETERS)
  return success({
    view: options.view ?? null,
    map: modelMap(parameters),
    corners: modelCorners(parameters),
    ...uncertainParts(scene, parameters, inverse, variance, sharpened?.halo.blurSpreadPx ?? 0),
    blurSigmaPx: Math.sqrt(Math.max(0, meanBlur(parameters) ** 2 - APERTURE_VARIANCE)),
    halo: sharpened?.halo ?? null,
    unevenLight: seen.uneven,
    edgeShiftPx: parameters[SHIFT]!,
    paper: parameters[PAPER]!,
    ink: parameters[INK]!,
    residualDn: Math.sqrt(variance),
    correlation: modelCorrelation(scene.pixels.code, scene.residuals, scene.weights),
    kept: used / openPixels(scene),
    trimmed: seen.trimmed,
    pixels: scene.pixels.count,
    faceSums: options.faces === false ? [] : faceSums(scene, options.face, parameters),
  })
}

const OUTSIDE = failure(chartSays['outside-the-still']())
const TOO_FAINT = failure(chartSays['too-faint']())
const NOT_CONVERGED = failure(chartSays['not-converged']())

/** A fit that has come to rest; `descent` and `scene` move along with what is made of it. */
interface SettledFit {
  readonly scene: ChartScene
  readonly descent: ChartDescent
  readonly sums: NormalSums
  readonly limits: { readonly settledPx: number; readonly mostSteps: number }
}

/** From the start to rest: over some of the pixels first, then over all of them, weighed anew in between. */
function fitInStages(image: GreyImage, start: Homography, options: FitOptions): Outcome<SettledFit, NoFit> {
  const [model, soft] = [new ChartModel(options.face), new ChartModel(options.face)]
  const first = fitStart(image, start, options.blurSigmaPx)
  const places = viewPlaces(options.view ?? null)
  const pixels = fitPixels(image, model, first, places)
  if (pixels === null) return OUTSIDE
  let scene = new ChartScene(model, soft, pixels, first)
  const descent: ChartDescent = { parameters: first, damping: DAMPING, steps: 0 }
  const mostSteps = options.mostSteps ?? MOST_STEPS
  const stages = [
    { count: pixels.first, settledPx: ROUGH_PX },
    { count: pixels.first, settledPx: NEAR_PX },
    { count: Infinity, settledPx: SETTLED_PX },
    { count: Infinity, settledPx: SETTLED_PX },
  ]
  let sums = emptySums()
  for (const [index, { count, settledPx }] of stages.entries()) {
    if (index === 2) {
      // The first pixels were chosen by a guess of the blur: now it is known.
      const chosen = fitPixels(image, model, descent.parameters, places)
      if (chosen === null) return OUTSIDE
      const next = new ChartScene(model, soft, chosen, first)
      next.noiseDn = scene.noiseDn
      next.noiseVariance = scene.noiseVariance
      scene = next
    }
    const reach = Math.min(count, scene.pixels.count)
    // A descent ends by trying ever shorter steps; the next one, of other pixels or weights, begins anew.
    descent.damping = Math.min(descent.damping, DAMPING)
    const last = descendChart(scene, descent, reach, { settledPx, mostSteps })
    if (last.end === 'out-of-steps') return NOT_CONVERGED
    if (last.end !== 'there') return TOO_FAINT
    ;({ sums } = last)
    const isLast = index === stages.length - 1
    if (!isLast && !weighScene(scene, descent.parameters, reach) && index === 2) break
  }
  return success({ scene, descent, sums, limits: { settledPx: SETTLED_PX, mostSteps } })
}

/** Goes on from new weights; null where it comes to no rest. */
function goOn({ scene, descent, limits }: SettledFit): NormalSums | null {
  let sums = emptySums()
  for (let look = 0; look < 2; look += 1) {
    weighScene(scene, descent.parameters, scene.pixels.count)
    const next = descendChart(scene, { ...descent, damping: DAMPING, steps: 0 }, scene.pixels.count, limits)
    if (next.end !== 'there') return null
    ;({ sums } = next)
  }
  return sums
}

/** Goes on without the sides of the margin that are trimmed away, and with uneven light read place by place; null where it comes to no rest. */
function fitAsLit(
  fit: SettledFit,
): { readonly sums: NormalSums; readonly trimmed: TrimmedSides; readonly uneven: boolean } | null {
  const { scene, descent, limits } = fit
  let sums: NormalSums | null = fit.sums
  let trimmed = NONE_TRIMMED
  for (let round = 0; round < TRIMMED_ROUNDS; round += 1) {
    const seen = trimmedSides(scene, descent.parameters, contrastDn(descent.parameters))
    const joint = trimmed.map((before, side) => before || seen[side]!) as unknown as TrimmedSides
    if (joint.every((one, side) => one === trimmed[side])) break
    trimmed = joint
    markTrimmed(scene, descent.parameters, trimmed)
    sums = goOn(fit)
    if (sums === null) return null
  }
  const uneven = lightIsUneven(scene)
  if (uneven && trimmed.includes(true)) {
    // A shadow or a lamp it is, not the margin.
    trimmed = NONE_TRIMMED
    scene.trimmed.fill(0)
    sums = goOn(fit)
    if (sums === null) return null
  }
  return { sums: (uneven ? underUnevenLight(scene, descent, limits)?.sums : null) ?? sums, trimmed, uneven }
}

/** The corners' covariance and both blurs, widened by what the residuals have in common, by stray light and by the halo's own spread, px. */
function uncertainParts(
  scene: ChartScene,
  parameters: Float64Array,
  inverse: Float64Array,
  variance: number,
  haloSpreadPx: number,
): Pick<ChartFit, 'covariancePx2' | 'blur'> {
  const p = MODEL_PARAMETERS
  const [across, along, blurX, blurY] = widenings(scene, parameters, inverse, variance)
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
      Array.from({ length: 8 }, (__, j) => inverse[i * p + j]! * variance * widening),
    ),
    blur: { upright: blurOf(BLUR_X, blurX!), level: blurOf(BLUR_Y, blurY!) },
  }
}

/** Widenings of the frame's width, its height and both blurs by what the residuals have in common. */
function widenings(
  scene: ChartScene,
  parameters: Float64Array,
  inverse: Float64Array,
  variance: number,
): number[] {
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
  return residualWidening({ x, y, weights, residuals, variance, size: p, slopes, inverse }, [
    stretch(wide, [-1, 1, 1, -1]),
    stretch(high, [-1, -1, 1, 1]),
    unit(BLUR_X),
    unit(BLUR_Y),
  ])
}

/** Marks the pixels that a trimmed margin hides. */
function markTrimmed(scene: ChartScene, parameters: Float64Array, sides: TrimmedSides): void {
  const back = inverseHomography(modelMap(parameters))
  const { x, y, count } = scene.pixels
  for (let at = 0; back !== null && at < count; at += 1) {
    const [u, v] = mapPoint(back, x[at]!, y[at]!)
    scene.trimmed[at] = isTrimmedAway(sides, u, v) ? 1 : 0
  }
}

/** Pixels that are neither blocked nor trimmed away. */
function openPixels({ blocked, trimmed }: ChartScene): number {
  return Math.max(
    1,
    blocked.reduce((sum, one, at) => sum + (one === 0 && trimmed[at] === 0 ? 1 : 0), 0),
  )
}
