import { choleskyInverse, choleskySolve } from '../math/cholesky.js'
import { failure, success, type Outcome } from '../math/outcome.js'
import type { Quad } from '../math/point.js'
import { FACES } from './chartGeometry.js'
import {
  BLUR,
  ChartModel,
  INK,
  MODEL_PARAMETERS,
  modelCorners,
  modelMap,
  PAPER,
  SHIFT,
  SLOPE_X,
  SLOPE_Y,
  SURROUND,
} from './chartModel.js'
import { codeOfLight } from './codeLight.js'
import { fitPixels, modelCorrelation, weighResiduals } from './fitPixels.js'
import { APERTURE_VARIANCE, fitStart } from './fitStart.js'
import type { GreyImage } from './greyImage.js'
import { residualWidening } from './residualWidening.js'
import { areaScale, type PlaneMap } from './planeMap.js'

/** The whole modelled chart fitted to a still's pixels. Image coordinates in px. */
export interface ChartFit {
  readonly map: PlaneMap
  readonly corners: Quad
  /** Covariance of the corners x1, y1, ... y4, px^2, from the residuals' scatter. */
  readonly covariancePx2: readonly (readonly number[])[]
  /** Gaussian blur without the pixel's aperture, px, and its standard uncertainty. */
  readonly blurSigmaPx: number
  readonly blurU: number
  /** How far every edge moved as ink spreads or light eats it, px; positive: ink grew. */
  readonly edgeShiftPx: number
  /** Levels in linear light at the chart's middle, 1 = white of the code values. */
  readonly paper: number
  readonly ink: number
  /** Standard deviation of the residuals, code values. */
  readonly residualDn: number
  /** Correlation of the fitted pixels with the model, in code values; share of the pixels kept as no outliers. */
  readonly correlation: number
  readonly kept: number
  readonly pixels: number
  /** Sum of squared residuals with each face at the parameters of this fit, 0..7. */
  readonly faceSums: readonly number[]
}

export type NoFit = 'not-determined' | 'not-converged' | 'too-blurred'

/** What can be told beforehand. */
export interface FitOptions {
  readonly face: number
  /** First guess of the blur, px. */
  readonly blurSigmaPx?: number
  /** Steps after which it gives up, 40 when left out. */
  readonly mostSteps?: number
}

const MOST_STEPS = 40
/** Where a step moves every corner by less than this, it is there, px. */
const SETTLED_PX = 1e-4
/** The chart is refused where its blur is over this share of a module: edges run into one another (chart trials). */
const MOST_BLUR_MODULES = 1.1
/** Standard deviation of the edge shift where the pixels say nothing, px: this project's convention. */
const SHIFT_PRIOR_PX = 0.5
/** Standard deviation of the surround's light against the paper's, in paper's light: this project's convention. */
const SURROUND_PRIOR = 0.7
/** From this blur on, modules, what lies behind the sheet, which is not one even light a side, widens the corners: this project's convention, set on simulated stills. */
const SURROUND_FREE = 0.35
const SURROUND_WIDENING = 9

/**
 * Least squares of the modelled chart (homography, one Gaussian blur, one common edge shift, two levels and the slopes of the light, in linear
 * light and encoded by sRGB) over the pixels of its field, by Levenberg and Marquardt with outliers left out. `start` takes modules to px.
 */
export function fitChart(image: GreyImage, start: PlaneMap, options: FitOptions): Outcome<ChartFit, NoFit> {
  const model = new ChartModel(options.face)
  const parameters = fitStart(image, start, options.blurSigmaPx)
  const pixels = fitPixels(image, model, parameters)
  if (pixels === null) return failure('not-determined', 'the chart lies outside the still')
  const { x, y, code, count } = pixels
  const p = MODEL_PARAMETERS
  const [middleX, middleY, reach] = extent(parameters)
  const weights = new Float64Array(count).fill(1)
  const residuals = new Float64Array(count)
  const matrix = new Float64Array(p * p)
  const damped = new Float64Array(p * p)
  const right = new Float64Array(p)
  const step = new Float64Array(p)
  const gradient = new Float64Array(p)
  let noiseVariance = 25
  const tails = new Float64Array(4)
  /** Light, its share of shade, and the place in units of the chart's half diagonal. */
  const scene = { light: 0, shade: 0, u: 0, v: 0 }
  const look = (values: Float64Array, at: number, ink: number): void => {
    scene.u = (x[at]! - middleX) / reach
    scene.v = (y[at]! - middleY) / reach
    scene.shade = 1 + values[SLOPE_X]! * scene.u + values[SLOPE_Y]! * scene.v
    scene.light = scene.shade * (values[PAPER]! + (values[INK]! - values[PAPER]!) * ink)
    model.surround(x[at]!, y[at]!, tails)
    for (let side = 0; side < 4; side += 1) scene.light += tails[side]! * values[SURROUND + side]!
  }
  /** Squares of the priors, in units of the residuals' variance. */
  const priorPull = (values: Float64Array, k: number): number => {
    if (k === SHIFT) return 1 / SHIFT_PRIOR_PX ** 2
    return k >= SURROUND ? 1 / (SURROUND_PRIOR * values[PAPER]!) ** 2 : 0
  }
  const sumAt = (values: Float64Array): number => {
    model.set(values, false)
    let sum = 0
    for (let at = 0; at < count; at += 1) {
      look(values, at, model.ink(x[at]!, y[at]!, null))
      residuals[at] = code[at]! - codeOfLight(scene.light)[0]
      sum += weights[at]! * residuals[at]! ** 2
    }
    let pull = 0
    for (let k = 0; k < p; k += 1) pull += priorPull(values, k) * values[k]! ** 2
    return sum + noiseVariance * pull
  }
  /** Writes the gradient of a pixel's code value, the model being set with slopes; returns its residual. */
  const writeGradient = (values: Float64Array, at: number): number => {
    const ink = model.ink(x[at]!, y[at]!, gradient)
    look(values, at, ink)
    const [predicted, slope] = codeOfLight(scene.light)
    const residual = code[at]! - predicted
    const contrast = slope * scene.shade * (values[INK]! - values[PAPER]!)
    for (let k = 0; k < 10; k += 1) gradient[k]! *= contrast
    const surface = values[PAPER]! + (values[INK]! - values[PAPER]!) * ink
    gradient[PAPER] = slope * scene.shade * (1 - ink)
    gradient[INK] = slope * scene.shade * ink
    gradient[SLOPE_X] = slope * surface * scene.u
    gradient[SLOPE_Y] = slope * surface * scene.v
    for (let side = 0; side < 4; side += 1) gradient[SURROUND + side] = slope * tails[side]!
    return residual
  }
  const buildEquations = (values: Float64Array): void => {
    model.set(values, true)
    matrix.fill(0)
    right.fill(0)
    for (let at = 0; at < count; at += 1) {
      if (weights[at] === 0) continue
      const residual = writeGradient(values, at)
      for (let i = 0; i < p; i += 1) {
        const a = gradient[i]!
        if (a === 0) continue
        right[i]! += a * residual
        for (let j = 0; j <= i; j += 1) matrix[i * p + j]! += a * gradient[j]!
      }
    }
    for (let i = 0; i < p; i += 1) {
      for (let j = i + 1; j < p; j += 1) matrix[i * p + j] = matrix[j * p + i]!
      const pull = noiseVariance * priorPull(values, i)
      matrix[i * p + i]! += pull
      right[i]! -= pull * values[i]!
    }
  }
  let sum = sumAt(parameters)
  let damping = 1e-3
  let settled = false
  let trimmed = false
  for (let round = 0; round < (options.mostSteps ?? MOST_STEPS); round += 1) {
    buildEquations(parameters)
    let moved = Infinity
    for (let attempt = 0; attempt < 8; attempt += 1) {
      damped.set(matrix)
      for (let i = 0; i < p; i += 1) damped[i * p + i]! *= 1 + damping
      if (!choleskySolve(damped, right, step))
        return failure('not-determined', 'the chart is too faint to be fitted')
      const trial = parameters.map((value, i) => value + step[i]!)
      trial[BLUR] = Math.max(0.3, trial[BLUR]!)
      const trialSum = admissible(trial) ? sumAt(trial) : Infinity
      if (trialSum <= sum) {
        parameters.set(trial)
        moved = Math.max(...step.subarray(0, 8).map(Math.abs))
        sum = trialSum
        damping = Math.max(1e-7, damping / 5)
        break
      }
      damping *= 8
    }
    if (moved === Infinity && trimmed) {
      settled = true
      break
    }
    if (moved < 0.05 || moved === Infinity) {
      trimmed = true
      noiseVariance = Math.max(0.1, sumAt(parameters) / Math.max(1, count - p))
      weighResiduals(residuals, weights, contrastDn(parameters))
      sum = sumAt(parameters)
      if (moved < SETTLED_PX) {
        settled = true
        break
      }
    }
  }
  if (!settled) return failure('not-converged', 'the chart could not be fitted')
  const module = Math.sqrt(areaScale(modelMap(parameters)))
  if (parameters[BLUR]! > MOST_BLUR_MODULES * module)
    return failure('too-blurred', 'the chart is too blurred for its size to be measured')
  buildEquations(parameters)
  sum = sumAt(parameters)
  const used = weights.reduce((a, b) => a + (b > 0 ? 1 : 0), 0)
  const variance = sum / Math.max(1, used - p)
  const inverse = choleskyInverse(matrix, p)
  if (inverse === null) return failure('not-determined', 'the chart is too faint to be fitted')
  // What each pixel's residual does to each corner coordinate: residuals that hang together widen the corners more than white ones.
  const influences = Array.from({ length: 8 }, () => new Float64Array(count))
  model.set(parameters, true)
  for (let at = 0; at < count; at += 1) {
    if (weights[at] === 0) continue
    writeGradient(parameters, at)
    for (let k = 0; k < 8; k += 1) {
      let sum = 0
      for (let m = 0; m < p; m += 1) sum += inverse[k * p + m]! * gradient[m]!
      influences[k]![at] = sum * residuals[at]!
    }
  }
  const white = influences.map((_, k) => inverse[k * p + k]! * variance)
  const strayLight = 1 + SURROUND_WIDENING * Math.max(0, parameters[BLUR]! / module - SURROUND_FREE) ** 2
  const widening = residualWidening(x, y, influences, white) * strayLight
  const covariance = Array.from({ length: 8 }, (_, i) =>
    Array.from({ length: 8 }, (_, j) => inverse[i * p + j]! * variance * widening),
  )
  const faceSums = Array.from({ length: FACES }, (_, face) => {
    const other = face === options.face ? model : new ChartModel(face)
    other.set(parameters, false)
    let squares = 0
    for (let at = 0; at < count; at += 1) {
      if (weights[at] === 0) continue
      look(parameters, at, other.ink(x[at]!, y[at]!, null))
      squares += (code[at]! - codeOfLight(scene.light)[0]) ** 2
    }
    return squares
  })
  const blurVariance = Math.max(0, parameters[BLUR]! ** 2 - APERTURE_VARIANCE)
  const blurSigmaPx = Math.sqrt(blurVariance)
  return success({
    map: modelMap(parameters),
    corners: modelCorners(parameters),
    covariancePx2: covariance,
    blurSigmaPx,
    blurU:
      (Math.sqrt(inverse[BLUR * p + BLUR]! * variance * widening) * parameters[BLUR]!) /
      Math.max(0.1, blurSigmaPx),
    edgeShiftPx: parameters[SHIFT]!,
    paper: parameters[PAPER]!,
    ink: parameters[INK]!,
    residualDn: Math.sqrt(variance),
    correlation: modelCorrelation(code, residuals, weights),
    kept: used / count,
    pixels: count,
    faceSums,
  })
}

function admissible(values: Float64Array): boolean {
  return values.every(Number.isFinite) && values[PAPER]! > values[INK]! && values[PAPER]! > 0
}

function extent(parameters: Float64Array): readonly [number, number, number] {
  const quad = modelCorners(parameters)
  const x = quad.reduce((sum, corner) => sum + corner[0], 0) / 4
  const y = quad.reduce((sum, corner) => sum + corner[1], 0) / 4
  return [x, y, Math.hypot(quad[0][0] - quad[2][0], quad[0][1] - quad[2][1]) / 2]
}

function contrastDn(parameters: Float64Array): number {
  return codeOfLight(parameters[PAPER]!)[0] - codeOfLight(parameters[INK]!)[0]
}
