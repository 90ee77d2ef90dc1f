import { ResidualSums } from '../../math/normalEquations.js'
import { ChartModel } from './chartModel.js'
import {
  BLUR_X,
  BLUR_Y,
  HALO,
  INK,
  MODEL_PARAMETERS,
  modelCorners,
  PAPER,
  SHIFT,
  SLOPE_X,
  SLOPE_Y,
  SURROUND,
} from './chartParameters.js'
import type { FitPixels } from './fitPixels.js'
import { seenCode } from './seenCode.js'

/** Standard deviation of the edge shift where the pixels say nothing, px: this project's convention. */
const SHIFT_PRIOR_PX = 0.5
/** Standard deviation between the two directions' blurs, px: this project's convention. */
const BLUR_PRIOR_PX = 0.1
/** Standard deviation of the halo where it is looked for; where it is not, it stays at none. This project's convention. */
const HALO_PRIOR = 1
const NO_HALO_PRIOR = 1e-3
/** Standard deviation of the surround's light against the paper's, in paper's light: this project's convention. */
const SURROUND_PRIOR = 0.7

/** The sums of one look at the pixels: what Gauss and Newton need. */
export interface NormalSums {
  /** Weighted squares of the residuals and the priors' pull. */
  sum: number
  readonly matrix: Float64Array
  readonly right: Float64Array
}

/** Empty sums. */
export function emptySums(): NormalSums {
  const p = MODEL_PARAMETERS
  return { sum: Infinity, matrix: new Float64Array(p * p), right: new Float64Array(p) }
}

/** The modelled chart against a still's pixels: code values predicted at them, residuals, and their slopes by all parameters. */
export class ChartScene {
  readonly pixels: FitPixels
  readonly residuals: Float64Array
  /** 1 for pixels that belong to the chart, 0 for what lies over it. */
  readonly weights: Float64Array
  /** Light at each pixel against the even light the model takes, where that is known to be uneven. */
  readonly shades: Float64Array
  /** 1 for pixels where that light changes too fast to be known: they are left out. */
  readonly blocked: Uint8Array
  /** 1 for pixels where the paper's margin is not to be seen: they are left out. */
  readonly trimmed: Uint8Array
  /** Noise of the camera, code values, which near black and white moves means; and its variance for the priors. */
  noiseDn = 0.5
  noiseVariance = 25
  /** How much more the picture is blurred that a sharpening takes off, px; 0 where no halo is looked for. */
  haloRadiusPx = 0
  readonly #model: ChartModel
  readonly #soft: ChartModel
  readonly #softGradient = new Float64Array(MODEL_PARAMETERS)
  readonly #middle: readonly [number, number]
  readonly #reach: number
  readonly #tails = new Float64Array(4)
  readonly #seen = { code: 0, slope: 0 }

  /** `soft` is a second model of the same face, for the halo. */
  constructor(model: ChartModel, soft: ChartModel, pixels: FitPixels, start: Float64Array) {
    this.#model = model
    this.#soft = soft
    this.pixels = pixels
    this.residuals = new Float64Array(pixels.count)
    this.weights = new Float64Array(pixels.count).fill(1)
    this.shades = new Float64Array(pixels.count).fill(1)
    this.blocked = new Uint8Array(pixels.count)
    this.trimmed = new Uint8Array(pixels.count)
    const quad = modelCorners(start)
    this.#middle = [
      quad.reduce((sum, corner) => sum + corner[0], 0) / 4,
      quad.reduce((sum, corner) => sum + corner[1], 0) / 4,
    ]
    this.#reach = Math.hypot(quad[0][0] - quad[2][0], quad[0][1] - quad[2][1]) / 2
  }

  /** Makes ready for looks at these parameters. */
  set(values: Float64Array): void {
    this.#model.set(values, true)
    if (this.haloRadiusPx === 0) return
    const soft = values.slice()
    soft[BLUR_X] = Math.hypot(values[BLUR_X]!, this.haloRadiusPx)
    soft[BLUR_Y] = Math.hypot(values[BLUR_Y]!, this.haloRadiusPx)
    this.#soft.set(soft, true)
  }

  /** Code value the model gives at pixel `at` for a share of ink there. */
  codeOfInk(values: Float64Array, at: number, ink: number): number {
    const x = this.pixels.x[at]!
    const y = this.pixels.y[at]!
    const shade = this.shades[at]! * this.#slope(values, x, y)
    let light = shade * (values[PAPER]! + (values[INK]! - values[PAPER]!) * ink)
    this.#model.surround(x, y, this.#tails)
    for (let side = 0; side < 4; side += 1) light += this.#tails[side]! * values[SURROUND + side]!
    seenCode(light, this.noiseDn, this.#seen)
    return this.#seen.code
  }

  /** Linear light the model gives at pixel `at` were its light even but for the slopes; the model being set. */
  evenLight(values: Float64Array, at: number): number {
    const x = this.pixels.x[at]!
    const y = this.pixels.y[at]!
    const ink = this.#model.ink(x, y, null)
    return this.#slope(values, x, y) * (values[PAPER]! + (values[INK]! - values[PAPER]!) * ink)
  }

  #slope(values: Float64Array, x: number, y: number): number {
    return (
      1 + (values[SLOPE_X]! * (x - this.#middle[0]) + values[SLOPE_Y]! * (y - this.#middle[1])) / this.#reach
    )
  }

  /** Writes the slopes of pixel `at`'s code value by all parameters; returns measured less predicted. */
  writeGradient(values: Float64Array, at: number, gradient: Float64Array): number {
    const measured = this.pixels.code[at]!
    const code = this.#writeCode(this.#model, values, at, gradient)
    gradient[HALO] = 0
    if (this.haloRadiusPx === 0) return measured - code
    const soft = this.#softGradient
    const softCode = this.#writeCode(this.#soft, values, at, soft)
    const halo = values[HALO]!
    // The softer blur is the root of the blur's square and the radius'.
    for (const k of [BLUR_X, BLUR_Y]) soft[k]! *= values[k]! / Math.hypot(values[k]!, this.haloRadiusPx)
    for (let k = 0; k < HALO; k += 1) gradient[k] = (1 + halo) * gradient[k]! - halo * soft[k]!
    gradient[HALO] = code - softCode
    return measured - code - halo * (code - softCode)
  }

  /** Code value of a model at pixel `at`, and its slopes. */
  #writeCode(model: ChartModel, values: Float64Array, at: number, gradient: Float64Array): number {
    const { pixels } = this
    const x = pixels.x[at]!
    const y = pixels.y[at]!
    const ink = model.ink(x, y, gradient)
    const field = this.shades[at]!
    const even = this.#slope(values, x, y)
    const shade = field * even
    const surface = values[PAPER]! + (values[INK]! - values[PAPER]!) * ink
    let light = shade * surface
    const tails = this.#tails
    model.surround(x, y, tails)
    for (let side = 0; side < 4; side += 1) light += tails[side]! * values[SURROUND + side]!
    seenCode(light, this.noiseDn, this.#seen)
    const { code, slope } = this.#seen
    const contrast = slope * shade * (values[INK]! - values[PAPER]!)
    for (let k = 0; k <= SHIFT; k += 1) gradient[k]! *= contrast
    gradient[PAPER] = slope * shade * (1 - ink)
    gradient[INK] = slope * shade * ink
    const perSlope = (slope * field * surface) / this.#reach
    gradient[SLOPE_X] = perSlope * (x - this.#middle[0])
    gradient[SLOPE_Y] = perSlope * (y - this.#middle[1])
    for (let side = 0; side < 4; side += 1) gradient[SURROUND + side] = slope * tails[side]!
    return code
  }

  /** Looks at all pixels: residuals, and the sums with the priors in them. */
  look(values: Float64Array, into: NormalSums): void {
    const p = MODEL_PARAMETERS
    const { matrix, right } = into
    matrix.fill(0)
    right.fill(0)
    const sums = new ResidualSums(into)
    let sum = 0
    this.set(values)
    for (let at = 0; at < this.pixels.count; at += 1) {
      const residual = this.writeGradient(values, at, sums.row)
      this.residuals[at] = residual
      if (this.weights[at] === 0) continue
      sum += residual * residual
      sums.add(residual)
    }
    sums.end()
    for (let i = 0; i < p; i += 1) for (let j = i + 1; j < p; j += 1) matrix[i * p + j] = matrix[j * p + i]!
    into.sum = sum + this.#addPriors(values, into)
  }

  #addPriors(values: Float64Array, { matrix, right }: NormalSums): number {
    const p = MODEL_PARAMETERS
    let sum = 0
    const pull = (k: number, deviation: number): void => {
      const weight = this.noiseVariance / deviation ** 2
      matrix[k * p + k]! += weight
      right[k]! -= weight * values[k]!
      sum += weight * values[k]! ** 2
    }
    pull(SHIFT, SHIFT_PRIOR_PX)
    pull(HALO, this.haloRadiusPx > 0 ? HALO_PRIOR : NO_HALO_PRIOR)
    for (let side = 0; side < 4; side += 1) pull(SURROUND + side, SURROUND_PRIOR * values[PAPER]!)
    const weight = this.noiseVariance / BLUR_PRIOR_PX ** 2
    const apart = values[BLUR_X]! - values[BLUR_Y]!
    matrix[BLUR_X * p + BLUR_X]! += weight
    matrix[BLUR_Y * p + BLUR_Y]! += weight
    matrix[BLUR_X * p + BLUR_Y]! -= weight
    matrix[BLUR_Y * p + BLUR_X]! -= weight
    right[BLUR_X]! -= weight * apart
    right[BLUR_Y]! += weight * apart
    return sum + weight * apart ** 2
  }
}
