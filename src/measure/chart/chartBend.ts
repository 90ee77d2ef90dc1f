import { ChartModel } from '../../chart/fit/chartModel.js'
import { BLUR_X, BLUR_Y, SHIFT } from '../../chart/fit/chartParameters.js'
import { codeFromLinear, codeSlope } from '../../math/srgb.js'
import { type ChartFit, parametersOfFit } from '../../chart/fit/chartFit.js'
import { fitPixels, viewPlaces, type FitPixels } from '../../chart/fit/fitPixels.js'
import type { GreyImage } from '../../chart/match/greyImage.js'
import { isTrimmedAway } from '../../chart/fit/trimmedSides.js'
import { weighResiduals } from '../../chart/fit/outlierWeights.js'
import { inverseHomography, jacobianAt, mapPoint } from '../../math/homography.js'
import { choleskyInverse, choleskySolve } from '../../math/cholesky.js'
import type { Quad } from '../../math/point.js'
import {
  BEND_TERMS,
  moduleOf,
  pixelOf,
  PLANE_TERMS,
  placeOf,
  REACH_MODULES,
  writeTerms,
} from './bendShape.js'

/** How far a chart's parts lie from one plane's image. */
export interface ChartBend {
  /** Where the frame's corners would be, px, were the whole chart as flat as it is at its middle. */
  readonly flatCorners: Quad
  /** The farthest any corner of the frame lies from there, modules. */
  readonly farthestModules: number
  /** Wald's statistic of the bend over its number of terms: 1 where there is noise alone. */
  readonly evidence: number
  /** The bend's terms, the inverse of their covariance (8 x 8, row by row), and how the terms of a plane's own view follow each (8 x 8). */
  readonly terms: Float64Array
  readonly information: Float64Array
  readonly link: Float64Array
  /** What the bend leaves unexplained: residual variance over that of neighbours' differences, 1 where they are noise, and the share of pixels not left out. */
  readonly unexplained: number
  readonly kept: number
}

/** Light of paper and how much darker ink is, each with its slopes across the chart; what lies beyond each side of the sheet. */
const LIGHT_TERMS = 10
const SURROUND_AT = 6
const EDGE_AT = LIGHT_TERMS
const EDGE_TERMS = 3
const SHIFT_AT = EDGE_AT + 2
const PLANE_AT = LIGHT_TERMS + EDGE_TERMS
const BEND_AT = PLANE_AT + PLANE_TERMS
const TERMS = BEND_AT + BEND_TERMS
/** Standard deviations where the pixels say nothing, of the edge shift (px), the surround (in paper's light) and a term of the bend (modules): this project's convention. */
const SHIFT_PRIOR_PX = 0.5
const SURROUND_PRIOR = 0.7
const BEND_PRIOR_MODULES = 0.3
const ROUNDS = 3
/** Pixels looked at, at most. */
const MOST_PIXELS = 3000
const RUN = 16

/**
 * How far a fitted chart is from lying in one plane: squares and cubes of place are fitted beside a plane's own view to the pixels' residuals, by
 * Gauss and Newton, what lies over the chart left out. Square and cubic terms leave the chart's middle as it is, so the plane that is left over is
 * the one that touches the paper there, whose density is that of the middle. Null where the pixels do not tell.
 */
export function chartBend(image: GreyImage, fit: ChartFit, face: number): ChartBend | null {
  const model = new ChartModel(face)
  const parameters = parametersOfFit(fit)
  const pixels = fitPixels(image, model, parameters, viewPlaces(fit.view))
  const back = inverseHomography(fit.map)
  if (pixels === null || back === null) return null
  const { x, y, column, row: line, code, count } = thinned(pixels)
  const contrastDn = heldCode(fit.paper) - heldCode(fit.ink)
  const values = new Float64Array(TERMS)
  values.set([fit.paper, 0, 0, fit.ink - fit.paper, 0, 0])
  const weights = new Float64Array(count).fill(1)
  const residuals = new Float64Array(count)
  const matrix = new Float64Array(TERMS * TERMS)
  const right = new Float64Array(TERMS)
  const step = new Float64Array(TERMS)
  const row = new Float64Array(TERMS)
  const gradient = new Float64Array(11)
  const terms = new Float64Array(2 * (PLANE_TERMS + BEND_TERMS))
  const tails = new Float64Array(4)
  const [us, vs] = [new Float64Array(count), new Float64Array(count)]
  for (let at = 0; at < count; at += 1) {
    const [u, v] = placeOf(back, x[at]!, y[at]!)
    us[at] = u
    vs[at] = v
  }
  const isAway = Uint8Array.from(us, (u, at) => (isTrimmedAway(fit.trimmed, ...moduleOf(u, vs[at]!)) ? 1 : 0))
  const leaveOut = (): void => isAway.forEach((one, at) => (one === 1 ? (weights[at] = 0) : 0))
  leaveOut()
  let variance = Math.max(0.25, fit.residualDn ** 2)
  for (let round = 0; round <= ROUNDS; round += 1) {
    model.set(parameters, true)
    matrix.fill(0)
    right.fill(0)
    let [squares, used] = [0, 0]
    for (let at = 0; at < count; at += 1) {
      const u = us[at]!
      const v = vs[at]!
      writeTerms(u, v, terms)
      let du = 0
      let dv = 0
      for (let k = 0; k < PLANE_TERMS + BEND_TERMS; k += 1) {
        du += values[PLANE_AT + k]! * terms[2 * k]!
        dv += values[PLANE_AT + k]! * terms[2 * k + 1]!
      }
      const place = moduleOf(u - du, v - dv)
      const [px, py] = mapPoint(fit.map, ...place)
      const ink = model.ink(px, py, gradient)
      const paperLight = values[0]! + values[1]! * u + values[2]! * v
      const inkLight = values[3]! + values[4]! * u + values[5]! * v
      model.surround(px, py, tails)
      let light = paperLight + inkLight * ink
      for (let side = 0; side < 4; side += 1) light += tails[side]! * values[SURROUND_AT + side]!
      const lit = heldCode(light)
      const slope = light >= 1 ? 0 : codeSlope(Math.max(0, light), lit)
      const residual = code[at]! - lit
      residuals[at] = residual
      if (weights[at] === 0) continue
      used += 1
      squares += residual * residual
      row[0] = slope
      row[1] = slope * u
      row[2] = slope * v
      row[3] = slope * ink
      row[4] = slope * ink * u
      row[5] = slope * ink * v
      for (let side = 0; side < 4; side += 1) row[SURROUND_AT + side] = slope * tails[side]!
      const contrast = slope * inkLight
      row[EDGE_AT] = contrast * gradient[BLUR_X]!
      row[EDGE_AT + 1] = contrast * gradient[BLUR_Y]!
      row[SHIFT_AT] = contrast * gradient[SHIFT]!
      // All corners moved together are the chart moved: its ink changes as where the corners stand.
      const gx = gradient[0]! + gradient[2]! + gradient[4]! + gradient[6]!
      const gy = gradient[1]! + gradient[3]! + gradient[5]! + gradient[7]!
      const { alongX, alongY } = jacobianAt(fit.map, ...place)
      const alongU = contrast * REACH_MODULES * (gx * alongX[0] + gy * alongX[1])
      const alongV = contrast * REACH_MODULES * (gx * alongY[0] + gy * alongY[1])
      for (let k = 0; k < PLANE_TERMS + BEND_TERMS; k += 1)
        row[PLANE_AT + k] = alongU * terms[2 * k]! + alongV * terms[2 * k + 1]!
      for (let i = 0; i < TERMS; i += 1) {
        const a = row[i]!
        if (a === 0) continue
        right[i]! += a * residual
        const from = i * TERMS
        for (let j = 0; j <= i; j += 1) matrix[from + j]! += a * row[j]!
      }
    }
    if (used < 3 * TERMS) return null
    variance = squares / (used - TERMS)
    const pull = (k: number): number => {
      if (k === SHIFT_AT) return variance / SHIFT_PRIOR_PX ** 2
      if (k >= SURROUND_AT && k < EDGE_AT) return variance / (SURROUND_PRIOR * fit.paper) ** 2
      return k >= BEND_AT ? variance * (REACH_MODULES / BEND_PRIOR_MODULES) ** 2 : 0
    }
    for (let i = 0; i < TERMS; i += 1) {
      for (let j = i + 1; j < TERMS; j += 1) matrix[i * TERMS + j] = matrix[j * TERMS + i]!
      matrix[i * TERMS + i]! += pull(i)
      right[i]! -= pull(i) * (i === SHIFT_AT ? parameters[SHIFT]! : values[i]!)
    }
    if (round === ROUNDS) break
    if (!choleskySolve(matrix.slice(), right, step)) return null
    for (let k = 0; k < TERMS; k += 1) values[k]! += step[k]!
    parameters[BLUR_X] = Math.max(0.3, parameters[BLUR_X]! + step[EDGE_AT]!)
    parameters[BLUR_Y] = Math.max(0.3, parameters[BLUR_Y]! + step[EDGE_AT + 1]!)
    parameters[SHIFT]! += step[SHIFT_AT]!
    if (round > 0) weighResiduals(residuals, weights, count, contrastDn)
    leaveOut()
  }
  const told = toldOfBend(matrix, values, variance)
  if (told === null) return null
  const corners = fit.corners.map((corner) => {
    const [u, v] = placeOf(back, corner[0], corner[1])
    writeTerms(u, v, terms)
    let [du, dv] = [0, 0]
    for (let k = 0; k < PLANE_TERMS; k += 1) {
      du += values[PLANE_AT + k]! * terms[2 * k]!
      dv += values[PLANE_AT + k]! * terms[2 * k + 1]!
    }
    return { at: pixelOf(fit.map, u + du, v + dv), modules: REACH_MODULES * Math.hypot(du, dv) }
  })
  return {
    flatCorners: corners.map(({ at }) => at) as unknown as Quad,
    farthestModules: Math.max(...corners.map(({ modules }) => modules)),
    ...told,
    unexplained: variance / Math.max(0.25, neighbourVariance(column, line, residuals, weights)),
    kept: weights.reduce((sum, weight) => sum + weight, 0) / isAway.reduce((sum, one) => sum + 1 - one, 0),
  }
}

/** Code value of linear light, held at black and at white. */
function heldCode(light: number): number {
  return codeFromLinear(Math.min(1, Math.max(0, light)))
}

/** No more than so many pixels row by row, in runs, so that neighbours stay together. */
function thinned(pixels: FitPixels): Pick<FitPixels, 'x' | 'y' | 'column' | 'row' | 'code' | 'count'> {
  const { column, row, count } = pixels
  const order = Array.from({ length: count }, (_, at) => at).sort(
    (a, b) => row[a]! - row[b]! || column[a]! - column[b]!,
  )
  const every = Math.max(1, Math.ceil(count / MOST_PIXELS))
  const kept = order.filter((_, at) => Math.floor(at / RUN) % every === 0)
  const of = (values: Float64Array): Float64Array => Float64Array.from(kept, (at) => values[at]!)
  return {
    x: of(pixels.x),
    y: of(pixels.y),
    column: of(column),
    row: of(row),
    code: of(pixels.code),
    count: kept.length,
  }
}

/** Half the mean square of the differences between pixels side by side in a row: the noise, whatever else lies in the residuals. */
function neighbourVariance(
  x: Float64Array,
  y: Float64Array,
  residuals: Float64Array,
  weights: Float64Array,
): number {
  let [sum, pairs] = [0, 0]
  for (let at = 1; at < x.length; at += 1) {
    if (weights[at] === 0 || weights[at - 1] === 0) continue
    if (y[at] !== y[at - 1] || x[at]! - x[at - 1]! > 1.5) continue
    sum += (residuals[at]! - residuals[at - 1]!) ** 2
    pairs += 1
  }
  return pairs === 0 ? 0 : sum / (2 * pairs)
}

/** The bend's terms with what stands behind them, and how evident they are; null where their covariance is singular. */
function toldOfBend(
  matrix: Float64Array,
  values: Float64Array,
  variance: number,
): Pick<ChartBend, 'terms' | 'information' | 'link' | 'evidence'> | null {
  const inverse = choleskyInverse(matrix, TERMS)
  if (inverse === null) return null
  const n = BEND_TERMS
  const block = new Float64Array(n * n)
  for (let i = 0; i < n; i += 1)
    for (let j = 0; j < n; j += 1) block[i * n + j] = inverse[(BEND_AT + i) * TERMS + BEND_AT + j]!
  const information = choleskyInverse(block, n)
  if (information === null) return null
  const terms = values.slice(BEND_AT)
  const link = new Float64Array(PLANE_TERMS * n)
  for (let i = 0; i < PLANE_TERMS; i += 1)
    for (let j = 0; j < n; j += 1)
      for (let k = 0; k < n; k += 1)
        link[i * n + j]! += inverse[(PLANE_AT + i) * TERMS + BEND_AT + k]! * information[k * n + j]!
  for (let k = 0; k < n * n; k += 1) information[k]! /= variance
  let wald = 0
  for (let i = 0; i < n; i += 1)
    for (let j = 0; j < n; j += 1) wald += terms[i]! * information[i * n + j]! * terms[j]!
  return { terms, information, link, evidence: wald / n }
}
