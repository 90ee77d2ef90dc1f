import { inverseHomography, mapPoint, type Homography } from '../../math/homography.js'
import { failure, success, type Outcome } from '../../math/outcome.js'
import type { GreyImage } from '../match/greyImage.js'
import { modulePx } from '../printed/chartGeometry.js'
import { chartSays } from '../sentences.js'
import { parametersOf, type ChartDraft, type FitOptions, type NoFit } from './chartFit.js'
import { ChartModel } from './chartModel.js'
import {
  APERTURE_VARIANCE,
  BLUR_X,
  BLUR_Y,
  INK,
  meanBlur,
  modelCorners,
  modelMap,
  PAPER,
  SHIFT,
} from './chartParameters.js'
import { ChartScene, emptySums, type NormalSums } from './chartScene.js'
import { descendChart, type ChartDescent } from './descendChart.js'
import { fitPixels, viewPlaces } from './fitPixels.js'
import { fitStart } from './fitStart.js'
import { isTrimmedAway, NONE_TRIMMED, trimmedSides, type TrimmedSides } from './trimmedSides.js'
import { lightIsUneven } from './unevenLight.js'
import { contrastDn, weighScene } from './weighScene.js'

/** Steps tried, refused ones among them. */
const MOST_STEPS = 80
const DAMPING = 1e-3
/** Looks at the margin, at most: leaving one side out may show another. */
const TRIMMED_ROUNDS = 2
/** Pixels the first steps look at. */
const ROUGH_PIXELS = 1100
/** A descent over these ends where a step moves every corner by less than the first, then by less than the second; the last one, over all pixels, by less than the third, px. */
const ROUGH_PX = 0.5
const NEAR_PX = 0.05
const SETTLED_PX = 3e-3
/** The chart is refused where its blur is over this share of a module: edges run into one another (chart trials). */
const MOST_BLUR_MODULES = 1.1

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

/** A chart at rest, what the rest of its fit goes on from, and whether its light looks uneven. */
export interface DraftedChart extends SettledFit {
  readonly chart: ChartDraft
  readonly isUneven: boolean
}

/**
 * The first part of a fit (`fitChart`): the model brought to rest on the pixels, without the sides of the margin that are trimmed away where `options.unevenLight` asks for a look at
 * them. `start`: a map of modules to px, or a chart at rest nearby, in its own view.
 */
export function draftChart(
  image: GreyImage,
  start: Homography | ChartDraft,
  options: FitOptions,
): Outcome<DraftedChart, NoFit> {
  const staged = fitInStages(image, start, options)
  if (!staged.ok) return staged
  const { scene, descent } = staged.value
  const { parameters } = descent
  const seen =
    options.unevenLight === true
      ? withoutTrimmed(staged.value)
      : { sums: staged.value.sums, trimmed: NONE_TRIMMED, isUneven: false }
  if (seen === null) return NOT_CONVERGED
  if (Math.max(parameters[BLUR_X]!, parameters[BLUR_Y]!) > MOST_BLUR_MODULES * modulePx(modelMap(parameters)))
    return failure(chartSays['too-blurred']())
  const { sums, trimmed, isUneven } = seen
  const chart = chartAtRest(parameters, viewOf(start, options), trimmed)
  return success({ ...staged.value, scene, sums, isUneven, chart })
}

/** What parameters say of a chart. */
export function chartAtRest(
  parameters: Float64Array,
  view: ChartDraft['view'],
  trimmed: TrimmedSides,
): ChartDraft {
  const withoutAperture = (blur: number) => Math.sqrt(Math.max(0, blur ** 2 - APERTURE_VARIANCE))
  return {
    view,
    map: modelMap(parameters),
    corners: modelCorners(parameters),
    blur: {
      upright: { sigmaPx: withoutAperture(parameters[BLUR_X]!) },
      level: { sigmaPx: withoutAperture(parameters[BLUR_Y]!) },
    },
    blurSigmaPx: withoutAperture(meanBlur(parameters)),
    edgeShiftPx: parameters[SHIFT]!,
    paper: parameters[PAPER]!,
    ink: parameters[INK]!,
    trimmed,
  }
}

function viewOf(start: Homography | ChartDraft, { view = null }: FitOptions): ChartDraft['view'] {
  return start instanceof Float64Array ? view : start.view
}

/** From the start to rest: from afar over some of the pixels first, then over all of them, weighed anew in between. */
function fitInStages(
  image: GreyImage,
  start: Homography | ChartDraft,
  options: FitOptions,
): Outcome<SettledFit, NoFit> {
  const { face, mostSteps = MOST_STEPS } = options
  const [model, soft] = [new ChartModel(face), new ChartModel(face)]
  const isFar = start instanceof Float64Array
  const parameters = isFar ? fitStart(image, start, options.blurSigmaPx) : parametersOf(start)
  const places = viewPlaces(viewOf(start, options))
  const first = parameters.slice()
  const descent: ChartDescent = { parameters, damping: DAMPING, steps: 0 }
  const descend = (scene: ChartScene, settledPx: number): Outcome<NormalSums, NoFit> => {
    // A descent ends by trying ever shorter steps; the next one, of other pixels or weights, begins anew.
    descent.damping = Math.min(descent.damping, DAMPING)
    const { end, sums } = descendChart(scene, descent, { settledPx, mostSteps })
    if (end === 'there') return success(sums)
    return end === 'out-of-steps' ? NOT_CONVERGED : TOO_FAINT
  }
  let rough: ChartScene | null = null
  if (isFar) {
    const pixels = fitPixels(image, face, parameters, places, { sample: ROUGH_PIXELS })
    if (pixels === null) return OUTSIDE
    rough = new ChartScene(model, soft, pixels, first)
    for (const settledPx of [ROUGH_PX, NEAR_PX]) {
      const near = descend(rough, settledPx)
      if (!near.ok) return near
      weighScene(rough, parameters)
    }
  }
  // The first pixels were chosen by a guess of the blur: now it is known.
  const pixels = fitPixels(image, face, parameters, places)
  if (pixels === null) return OUTSIDE
  const scene = new ChartScene(model, soft, pixels, first)
  scene.noiseDn = rough?.noiseDn ?? scene.noiseDn
  scene.noiseVariance = rough?.noiseVariance ?? scene.noiseVariance
  let settled = descend(scene, SETTLED_PX)
  if (settled.ok && weighScene(scene, parameters)) settled = descend(scene, SETTLED_PX)
  if (!settled.ok) return settled
  return success({ scene, descent, sums: settled.value, limits: { settledPx: SETTLED_PX, mostSteps } })
}

/** Goes on from new weights; null where it comes to no rest. */
function goOn({ scene, descent, limits }: SettledFit): NormalSums | null {
  let sums = emptySums()
  for (let look = 0; look < 2; look += 1) {
    weighScene(scene, descent.parameters)
    const next = descendChart(scene, { ...descent, damping: DAMPING, steps: 0 }, limits)
    if (next.end !== 'there') return null
    ;({ sums } = next)
  }
  return sums
}

/** Goes on without the sides of the margin that are trimmed away, and tells whether the light looks uneven; null where it comes to no rest. */
function withoutTrimmed(
  fit: SettledFit,
): { readonly sums: NormalSums; readonly trimmed: TrimmedSides; readonly isUneven: boolean } | null {
  const { scene, descent } = fit
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
  const isUneven = lightIsUneven(scene, descent.parameters)
  if (isUneven && trimmed.includes(true)) {
    // A shadow or a lamp it is, not the margin.
    trimmed = NONE_TRIMMED
    scene.trimmed.fill(0)
    sums = goOn(fit)
  }
  return sums === null ? null : { sums, trimmed, isUneven }
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
