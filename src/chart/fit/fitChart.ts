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
import { ChartScene, type NormalSums } from './chartScene.js'
import { codeOfLight } from '../../math/srgb.js'
import { growCover } from './coverReach.js'
import { descendChart, type Descent, type DescentEnd } from './descendChart.js'
import { faceSums } from './faceSums.js'
import { fitHalo } from './fitHalo.js'
import { fitPixels, viewPlaces } from './fitPixels.js'
import { fitStart } from './fitStart.js'
import type { GreyImage } from '../match/greyImage.js'
import { modelCorrelation, weighResiduals } from './outlierWeights.js'
import { areaScale, invertMap, mapPoint, type PlaneMap } from '../../math/planeMap.js'
import { isTrimmedAway, NONE_TRIMMED, trimmedSides, type TrimmedSides } from './trimmedSides.js'
import { lightIsUneven, underUnevenLight } from './unevenLight.js'
import { residualWidening } from './residualWidening.js'
import { chartSays } from '../sentences.js'

const MOST_STEPS = 40
const DAMPING = 1e-3
/** Looks at the margin, at most: leaving one side out may show another. */
const TRIMMED_ROUNDS = 2
/** A first descent over some of the pixels ends where a step moves every corner by less than this, the last one over all of them by less than that, px. */
const ROUGH_PX = 0.5
const NEAR_PX = 0.05
const SETTLED_PX = 3e-3
/** A noise that changes by less needs no new look. */
const SAME_NOISE = 0.1
/** The chart is refused where its blur is over this share of a module: edges run into one another (chart trials). */
const MOST_BLUR_MODULES = 1.1
/** What lies over the chart is blurred into it so far beyond where it stands out. */
const COVER_BLURS = 2
const COVER_PX = 1
/** From this blur on, modules, what lies behind the sheet, which is not one even light a side, widens the corners: this project's convention, set on simulated stills. */
const SURROUND_FREE = 0.35
const SURROUND_WIDENING = 9

/**
 * Least squares of the modelled chart (homography, a Gaussian blur per direction, one common edge shift, two levels and the slopes of the light,
 * in linear light, encoded by sRGB and clipped) over the pixels of its field, by Levenberg and Marquardt with outliers left out. `start`
 * takes modules to px.
 */
export function fitChart(image: GreyImage, start: PlaneMap, options: FitOptions): Outcome<ChartFit, NoFit> {
  const [model, soft] = [new ChartModel(options.face), new ChartModel(options.face)]
  const first = fitStart(image, start, options.blurSigmaPx)
  const view = options.view ?? null
  const places = viewPlaces(view)
  const pixels = fitPixels(image, model, first, places)
  if (pixels === null) return failure(chartSays['outside-the-still']())
  let scene = new ChartScene(model, soft, pixels, first)
  const descent: Descent = { parameters: first, damping: DAMPING, steps: 0 }
  const mostSteps = options.mostSteps ?? MOST_STEPS
  /** True where that changes what is to be fitted. */
  const weigh = (count: number): boolean => {
    const contrast = contrastDn(descent.parameters)
    const before = scene.weights.slice(0, count)
    const { deviation } = weighResiduals(scene.residuals, scene.weights, count, contrast)
    growCover(scene.pixels, scene.weights, count, COVER_BLURS * meanBlur(descent.parameters) + COVER_PX)
    for (let at = 0; at < count; at += 1)
      if (scene.blocked[at] === 1 || scene.trimmed[at] === 1) scene.weights[at] = 0
    const noiseDn = Math.max(0.5, deviation)
    const same =
      before.every((weight, at) => weight === scene.weights[at]) &&
      Math.abs(noiseDn / scene.noiseDn - 1) < SAME_NOISE
    scene.noiseDn = noiseDn
    scene.noiseVariance = Math.max(0.1, deviation ** 2)
    return !same
  }
  const stages = [
    { count: pixels.first, settledPx: ROUGH_PX },
    { count: pixels.first, settledPx: NEAR_PX },
    { count: Infinity, settledPx: SETTLED_PX },
    { count: Infinity, settledPx: SETTLED_PX },
  ]
  let last: { readonly end: DescentEnd; readonly sums: NormalSums } | null = null
  for (const [index, { count, settledPx }] of stages.entries()) {
    if (index === 2) {
      // The first pixels were chosen by a guess of the blur: now it is known.
      const chosen = fitPixels(image, model, descent.parameters, places)
      if (chosen === null) return failure(chartSays['outside-the-still']())
      const next = new ChartScene(model, soft, chosen, first)
      next.noiseDn = scene.noiseDn
      next.noiseVariance = scene.noiseVariance
      scene = next
    }
    const reach = Math.min(count, scene.pixels.count)
    // A descent ends by trying ever shorter steps; the next one, of other pixels or weights, begins anew.
    descent.damping = Math.min(descent.damping, DAMPING)
    last = descendChart(scene, descent, reach, { settledPx, mostSteps })
    if (last.end === 'not-determined') return failure(chartSays['too-faint']())
    if (last.end === 'out-of-steps') return failure(chartSays['not-converged']())
    if (index < stages.length - 1 && !weigh(reach) && index === 2) break
  }
  const limits = { settledPx: SETTLED_PX, mostSteps }
  let settledSums = last!.sums
  /** Goes on from new weights; false where it comes to no rest. */
  const goOn = (): boolean => {
    for (let look = 0; look < 2; look += 1) {
      weigh(scene.pixels.count)
      const next = descendChart(scene, { ...descent, damping: DAMPING, steps: 0 }, scene.pixels.count, limits)
      if (next.end !== 'there') return false
      settledSums = next.sums
    }
    return true
  }
  const failed = failure(chartSays['not-converged']())
  let trimmed = NONE_TRIMMED
  for (let round = 0; options.unevenLight === true && round < TRIMMED_ROUNDS; round += 1) {
    const seen = trimmedSides(scene, descent.parameters, contrastDn(descent.parameters))
    const joint = trimmed.map((before, side) => before || seen[side]!) as unknown as TrimmedSides
    if (joint.every((one, side) => one === trimmed[side])) break
    trimmed = joint
    markTrimmed(scene, descent.parameters, trimmed)
    if (!goOn()) return failed
  }
  const uneven = options.unevenLight === true && lightIsUneven(scene)
  if (uneven && trimmed.includes(true)) {
    // A shadow or a lamp it is, not the margin.
    trimmed = NONE_TRIMMED
    scene.trimmed.fill(0)
    if (!goOn()) return failed
  }
  settledSums = (uneven ? underUnevenLight(scene, descent, weigh, limits)?.sums : null) ?? settledSums
  const parameters = descent.parameters
  const module = Math.sqrt(areaScale(modelMap(parameters)))
  if (Math.max(parameters[BLUR_X]!, parameters[BLUR_Y]!) > MOST_BLUR_MODULES * module)
    return failure(chartSays['too-blurred']())
  const sharpened = options.halo === true ? fitHalo(scene, descent, mostSteps) : null
  const { matrix, sum } = sharpened?.sums ?? settledSums
  const p = MODEL_PARAMETERS
  const inverse = choleskyInverse(matrix, p)
  if (inverse === null) return failure(chartSays['too-faint']())
  const used = scene.weights.reduce((a, b) => a + b, 0)
  const variance = sum / Math.max(1, used - p)
  const [across, along, blurX, blurY] = widenings(scene, parameters, inverse, variance)
  const strayLight = 1 + SURROUND_WIDENING * Math.max(0, meanBlur(parameters) / module - SURROUND_FREE) ** 2
  const widening = ((across! + along!) / 2) * strayLight
  const blurOf = (k: number, widened: number): FittedBlur => {
    const sigmaPx = Math.sqrt(Math.max(0, parameters[k]! ** 2 - APERTURE_VARIANCE))
    const u = Math.hypot(
      Math.sqrt(inverse[k * p + k]! * variance * widened),
      sharpened?.halo.blurSpreadPx ?? 0,
    )
    return { sigmaPx, u: (u * parameters[k]!) / Math.max(0.1, sigmaPx) }
  }
  return success({
    view,
    map: modelMap(parameters),
    corners: modelCorners(parameters),
    covariancePx2: Array.from({ length: 8 }, (_, i) =>
      Array.from({ length: 8 }, (__, j) => inverse[i * p + j]! * variance * widening),
    ),
    blur: { upright: blurOf(BLUR_X, blurX!), level: blurOf(BLUR_Y, blurY!) },
    blurSigmaPx: Math.sqrt(Math.max(0, meanBlur(parameters) ** 2 - APERTURE_VARIANCE)),
    halo: sharpened?.halo ?? null,
    unevenLight: uneven,
    edgeShiftPx: parameters[SHIFT]!,
    paper: parameters[PAPER]!,
    ink: parameters[INK]!,
    residualDn: Math.sqrt(variance),
    correlation: modelCorrelation(scene.pixels.code, scene.residuals, scene.weights),
    kept: used / openPixels(scene),
    trimmed,
    pixels: scene.pixels.count,
    faceSums: options.faces === false ? [] : faceSums(scene, options.face, parameters),
  })
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
  const back = invertMap(modelMap(parameters))
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

function contrastDn(parameters: Float64Array): number {
  return codeOfLight(parameters[PAPER]!)[0] - codeOfLight(parameters[INK]!)[0]
}
