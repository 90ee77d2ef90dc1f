import { type ChartDraft, parametersOf } from '../../chart/fit/chartFit.js'
import { ChartModel } from '../../chart/fit/chartModel.js'
import { BLUR_X, BLUR_Y, SHIFT } from '../../chart/fit/chartParameters.js'
import { fitPixels, viewPlaces, type FitPixels } from '../../chart/fit/fitPixels.js'
import { isTrimmedAway } from '../../chart/fit/trimmedSides.js'
import type { GreyImage } from '../../chart/match/greyImage.js'
import { inverseHomography, type Homography } from '../../math/homography.js'
import { ResidualSums } from '../../math/normalEquations.js'
import type { Point } from '../../math/point.js'
import { codeFromLinear, codeSlope } from '../../math/srgb.js'
import { BEND_TERMS, MIDDLE, moduleOf, PLANE_TERMS, placeOf, REACH_MODULES, writeTerms } from './bendShape.js'

/** Light of paper and how much darker ink is, each with its slopes across the chart; what lies beyond each side of the sheet. */
const LIGHT_TERMS = 10
const SURROUND_AT = 6
export const EDGE_AT = LIGHT_TERMS
const EDGE_TERMS = 3
export const SHIFT_AT = EDGE_AT + 2
export const PLANE_AT = LIGHT_TERMS + EDGE_TERMS
export const BEND_AT = PLANE_AT + PLANE_TERMS
export const TERMS = BEND_AT + BEND_TERMS
/** Standard deviations where the pixels say nothing, of the edge shift (px), the surround (in paper's light) and a term of the bend (modules): this project's convention. */
const SHIFT_PRIOR_PX = 0.5
const SURROUND_PRIOR = 0.7
const BEND_PRIOR_MODULES = 0.3
/** Pixels near edges that are looked at, about, at most. */
const NEAR_PIXELS = 2500

/** A chart whose bend is being fitted: its pixels, their places on it, and what is fitted. */
export interface BentChart {
  readonly fit: ChartDraft
  readonly model: ChartModel
  readonly back: Homography
  readonly pixels: FitPixels
  readonly us: Float64Array
  readonly vs: Float64Array
  /** 1 where a pixel lies in a margin that is trimmed away. */
  readonly isAway: Uint8Array
  readonly weights: Float64Array
  readonly residuals: Float64Array
  /** The edges' parameters, and all terms: the light's, the edges' changes, a plane's, the bend's. */
  readonly parameters: Float64Array
  readonly values: Float64Array
}

/** A fitted chart made ready; null where it has no pixels or its map no inverse. */
export function bentChart(image: GreyImage, fit: ChartDraft, face: number): BentChart | null {
  const model = new ChartModel(face)
  const parameters = parametersOf(fit)
  const pixels = fitPixels(image, face, parameters, viewPlaces(fit.view), { near: NEAR_PIXELS })
  const back = inverseHomography(fit.map)
  if (pixels === null || back === null) return null
  const { x, y, count } = pixels
  const [us, vs] = [new Float64Array(count), new Float64Array(count)]
  for (let at = 0; at < count; at += 1) {
    const [u, v] = placeOf(back, x[at]!, y[at]!)
    us[at] = u
    vs[at] = v
  }
  const isAway = new Uint8Array(count)
  for (let at = 0; at < count; at += 1)
    isAway[at] = isTrimmedAway(fit.trimmed, ...moduleOf(us[at]!, vs[at]!)) ? 1 : 0
  const values = new Float64Array(TERMS)
  values.set([fit.paper, 0, 0, fit.ink - fit.paper, 0, 0])
  const weights = new Float64Array(count).fill(1)
  const residuals = new Float64Array(count)
  const bent = { fit, model, back, pixels, us, vs, isAway, weights, residuals, parameters, values }
  leaveOut(bent)
  return bent
}

/** Leaves out the pixels of a margin that is trimmed away. */
export function leaveOut({ isAway, weights }: BentChart): void {
  for (let at = 0; at < isAway.length; at += 1) if (isAway[at] === 1) weights[at] = 0
}

/** The normal equations of all terms, with what is known beforehand in them, and the residuals' variance. */
interface BendSums {
  readonly matrix: Float64Array
  readonly right: Float64Array
  readonly variance: number
}

/** Looks at all pixels once; null where too few are left. */
export function lookAt(bent: BentChart): BendSums | null {
  const { fit, model, parameters, values, pixels, residuals, weights } = bent
  const matrix = new Float64Array(TERMS * TERMS)
  const right = new Float64Array(TERMS)
  const sums = new ResidualSums({ matrix, right })
  model.set(parameters, true)
  let [squares, used] = [0, 0]
  const room = rowRoom()
  for (let at = 0; at < pixels.count; at += 1) {
    const residual = writeRow(bent, room, at, sums.row)
    residuals[at] = residual
    if (weights[at] === 0) continue
    used += 1
    squares += residual * residual
    sums.add(residual)
  }
  sums.end()
  if (used < 3 * TERMS) return null
  const variance = squares / (used - TERMS)
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
  return { matrix, right, variance }
}

/** The slopes of all pixels by all terms, row by pixel. */
export function slopesOf(bent: BentChart): Float64Array {
  const room = rowRoom()
  const slopes = new Float64Array(TERMS * bent.pixels.count)
  for (let at = 0; at < bent.pixels.count; at += 1)
    writeRow(bent, room, at, slopes.subarray(TERMS * at, TERMS * (at + 1)))
  return slopes
}

/** Room for what is worked out at a pixel. */
interface RowRoom {
  readonly gradient: Float64Array
  readonly terms: Float64Array
  readonly tails: Float64Array
}

function rowRoom(): RowRoom {
  return {
    gradient: new Float64Array(11),
    terms: new Float64Array(2 * (PLANE_TERMS + BEND_TERMS)),
    tails: new Float64Array(4),
  }
}

/** Writes a pixel's slopes by all terms into a row; returns its residual. */
function writeRow(
  { fit, model, values, pixels, us, vs }: BentChart,
  { gradient, terms, tails }: RowRoom,
  at: number,
  row: Float64Array,
): number {
  const [m0, m1, m2] = [fit.map[0]!, fit.map[1]!, fit.map[2]!]
  const [m3, m4, m5] = [fit.map[3]!, fit.map[4]!, fit.map[5]!]
  const [m6, m7, m8] = [fit.map[6]!, fit.map[7]!, fit.map[8]!]
  const u = us[at]!
  const v = vs[at]!
  writeTerms(u, v, terms)
  let du = 0
  let dv = 0
  for (let k = 0; k < PLANE_TERMS + BEND_TERMS; k += 1) {
    du += values[PLANE_AT + k]! * terms[2 * k]!
    dv += values[PLANE_AT + k]! * terms[2 * k + 1]!
  }
  const across = MIDDLE[0] + REACH_MODULES * (u - du)
  const down = MIDDLE[1] + REACH_MODULES * (v - dv)
  const w = m6 * across + m7 * down + m8
  const px = (m0 * across + m1 * down + m2) / w
  const py = (m3 * across + m4 * down + m5) / w
  const ink = model.ink(px, py, gradient)
  const paperLight = values[0]! + values[1]! * u + values[2]! * v
  const inkLight = values[3]! + values[4]! * u + values[5]! * v
  model.surround(px, py, tails)
  let light = paperLight + inkLight * ink
  for (let side = 0; side < 4; side += 1) light += tails[side]! * values[SURROUND_AT + side]!
  const lit = heldCode(light)
  const slope = light >= 1 ? 0 : codeSlope(Math.max(0, light), lit)
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
  const scale = (contrast * REACH_MODULES) / w
  const alongU = scale * (gx * (m0 - px * m6) + gy * (m3 - py * m6))
  const alongV = scale * (gx * (m1 - px * m7) + gy * (m4 - py * m7))
  for (let k = 0; k < PLANE_TERMS + BEND_TERMS; k += 1)
    row[PLANE_AT + k] = alongU * terms[2 * k]! + alongV * terms[2 * k + 1]!
  return pixels.code[at]! - lit
}

/** How far the first `count` of a plane's and the bend's terms move a place, in units of the frame's half width. */
export function displacement(values: Float64Array, terms: Float64Array, count: number): Point {
  let [du, dv] = [0, 0]
  for (let k = 0; k < count; k += 1) {
    du += values[PLANE_AT + k]! * terms[2 * k]!
    dv += values[PLANE_AT + k]! * terms[2 * k + 1]!
  }
  return [du, dv]
}

/** Code value of linear light, held at black and at white. */
export function heldCode(light: number): number {
  return codeFromLinear(Math.min(1, Math.max(0, light)))
}
