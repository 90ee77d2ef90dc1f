import { BLUR_X, BLUR_Y, SHIFT } from '../../chart/fit/chartParameters.js'
import type { ChartDraft } from '../../chart/fit/chartFit.js'
import { blockScatter } from '../../chart/fit/residualWidening.js'
import { areSameWeights, weighResiduals } from '../../chart/fit/outlierWeights.js'
import type { GreyImage } from '../../chart/match/greyImage.js'
import { choleskyInverse, choleskySolve } from '../../math/cholesky.js'
import type { Point, Quad } from '../../math/point.js'
import { BEND_TERMS, pixelOf, PLANE_TERMS, placeOf, REACH_MODULES, writeTerms } from './bendShape.js'
import {
  BEND_AT,
  bentChart,
  type BentChart,
  displacement,
  EDGE_AT,
  heldCode,
  leaveOut,
  lookAt,
  slopesOf,
  PLANE_AT,
  SHIFT_AT,
  TERMS,
} from './bentChart.js'

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
  /** By how much the terms vary more than noise of the residuals' variance would make them that has no memory: what is unexplained, or what blocks of pixels tell apart. */
  readonly noise: number
}

const ROUNDS = 3
/** Where no term moves by more, in its own unit, and no pixel's weight changes, the bend is told. */
const SETTLED = 1e-4
/** From this evidence over what is unexplained on, blocks are asked: less is no bend in any case. This project's convention. */
const ASKED_FROM = 2

/**
 * How far a fitted chart is from lying in one plane: squares and cubes of place are fitted beside a plane's own view to the pixels' residuals, by
 * Gauss and Newton, what lies over the chart left out. Square and cubic terms leave the chart's middle as it is, so the plane that is left over is
 * the one that touches the paper there, whose density is that of the middle. Null where the pixels do not tell.
 */
export function chartBend(image: GreyImage, fit: ChartDraft, face: number): ChartBend | null {
  const bent = bentChart(image, fit, face)
  if (bent === null) return null
  const { parameters, values, weights, residuals, isAway } = bent
  const contrastDn = heldCode(fit.paper) - heldCode(fit.ink)
  const step = new Float64Array(TERMS)
  let seen = lookAt(bent)
  for (let round = 0; round < ROUNDS; round += 1) {
    if (seen === null || !choleskySolve(seen.matrix.slice(), seen.right, step)) return null
    for (let k = 0; k < TERMS; k += 1) values[k]! += step[k]!
    parameters[BLUR_X] = Math.max(0.3, parameters[BLUR_X]! + step[EDGE_AT]!)
    parameters[BLUR_Y] = Math.max(0.3, parameters[BLUR_Y]! + step[EDGE_AT + 1]!)
    parameters[SHIFT]! += step[SHIFT_AT]!
    const before = weights.slice()
    if (round > 0) weighResiduals(residuals, weights, contrastDn)
    leaveOut(bent)
    const isSettled = step.subarray(PLANE_AT).every((by) => Math.abs(by) < SETTLED)
    if (round > 0 && isSettled && areSameWeights(before, weights)) break
    seen = lookAt(bent)
  }
  const told = seen === null ? null : toldOfBend(seen.matrix, values, seen.variance)
  if (seen === null || told === null) return null
  const corners = fit.corners.map((corner) => flatCorner(bent, corner))
  const unexplained = seen.variance / Math.max(0.25, neighbourVariance(bent))
  const isAsked = told.evidence > ASKED_FROM * unexplained
  return {
    flatCorners: corners.map(({ at }) => at) as unknown as Quad,
    farthestModules: Math.max(...corners.map(({ modules }) => modules)),
    ...told,
    unexplained,
    noise: Math.max(unexplained, isAsked ? blockNoise(bent, seen.matrix, told) : 1),
    kept: weights.reduce((sum, weight) => sum + weight, 0) / isAway.reduce((sum, one) => sum + 1 - one, 0),
  }
}

/** The variance of the bend as it is seen from block to block of pixels, over that of noise without memory. */
function blockNoise(
  bent: BentChart,
  matrix: Float64Array,
  { terms, information, evidence }: Pick<ChartBend, 'terms' | 'information' | 'evidence'>,
): number {
  const direction = new Float64Array(TERMS)
  for (let i = 0; i < BEND_TERMS; i += 1)
    for (let j = 0; j < BEND_TERMS; j += 1)
      direction[BEND_AT + i]! += information[i * BEND_TERMS + j]! * terms[j]!
  const { column: x, row: y } = bent.pixels
  const { weights, residuals } = bent
  const fit = { x, y, weights, residuals, size: TERMS, slopes: slopesOf(bent) }
  const [variance] = blockScatter(fit, matrix, [direction]) ?? [0]
  return variance! / (BEND_TERMS * evidence)
}

/** Where a corner of the frame would be, px, were the chart as flat as at its middle, and how far that is from where it is, modules. */
function flatCorner({ fit, back, values }: BentChart, [x, y]: Point): { at: Point; modules: number } {
  const terms = new Float64Array(2 * (PLANE_TERMS + BEND_TERMS))
  const [u, v] = placeOf(back, x, y)
  writeTerms(u, v, terms)
  const [du, dv] = displacement(values, terms, PLANE_TERMS)
  return { at: pixelOf(fit.map, u + du, v + dv), modules: REACH_MODULES * Math.hypot(du, dv) }
}

/** Half the mean square of the differences between pixels side by side in a row: the noise, whatever else lies in the residuals. */
function neighbourVariance({ pixels: { column: x, row: y }, residuals, weights }: BentChart): number {
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
