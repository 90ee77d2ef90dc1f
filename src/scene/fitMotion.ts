import { choleskyInverse, choleskySolve } from '../math/cholesky.js'
import { median } from '../math/median.js'
import { seededRandom } from '../math/random.js'
import { ACROSS, cellOf, DOWN } from './cells.js'
import { type MotionModel, PARAMETERS } from './motionModel.js'

/** Sizes of the two stills, px. */
export interface StillSize {
  readonly width: number
  readonly height: number
}

/** What matches agree on. */
export interface AgreedMotion {
  readonly parameters: readonly number[]
  /** Which matches agree. */
  readonly agreeing: readonly number[]
}

/** The same with how well it is known. */
export interface FittedMotion extends AgreedMotion {
  /** Row by row, as it comes out of the matches, cells being drawn together; with `cells` of them. */
  readonly covariance: Float64Array
  readonly cells: number
}

/** Two matches to start from lie so far apart at least, as a share of the width. */
const APART = 0.12
const TRIALS = 80
/** With which so large a share of the matches agrees, cells counted, no better is looked for. */
const ENOUGH = 0.75
/** Matches of one cell count so many times at most. */
const MOST_A_CELL = 4
/** Within this of where they should be matches agree, px of the still: what the reduced picture tells, and a pixel at least. */
const LEAST_AGREE_PX = 1.2
const AGREE_REDUCED_PX = 0.9
const ROUNDS = 8
/** Tukey's weights end at so many standard deviations (95 % efficiency on normal errors). */
const TUKEY = 4.685
const LEAST_SIGMA_REDUCED_PX = 0.02
/** So few matches are not tried. */
const LEAST_MATCHES = 8

/**
 * How a still lies against another by matches ([x, y, x there, y there], px): a start from two matches or from no movement, which agrees with most, no cell counting
 * much (M. Fischler and R. Bolles), then weighted by how well each agrees (Tukey). `reducedPx` are px of the still to one of the picture it was registered by. The same
 * matches give the same. Null where they agree on nothing.
 */
export function fitMotion(
  points: readonly number[],
  model: MotionModel,
  size: StillSize,
  reducedPx: number,
): FittedMotion | null {
  const count = points.length / 4
  if (count < LEAST_MATCHES) return null
  const cells = cellsOf(points, size)
  const agreed = weighted(points, model, size, reducedPx, cells)
  if (agreed === null) return null
  const { parameters, weights } = agreed
  const covariance = clusteredCovariance(points, model, parameters, capped(weights, cells), cells)
  if (covariance === null) return null
  const agreeing = agreeingOf(weights)
  return {
    parameters: [...parameters],
    covariance,
    cells: new Set(agreeing.map((i) => cells[i])).size,
    agreeing,
  }
}

/** The same without how well it is known, of however few matches: a hint, to be looked after. */
export function agreedMotion(
  points: readonly number[],
  model: MotionModel,
  size: StillSize,
  reducedPx: number,
): AgreedMotion | null {
  const agreed = weighted(points, model, size, reducedPx, cellsOf(points, size))
  return agreed === null ? null : { parameters: [...agreed.parameters], agreeing: agreeingOf(agreed.weights) }
}

function cellsOf(points: readonly number[], { width, height }: StillSize): number[] {
  return Array.from({ length: points.length / 4 }, (_, i) =>
    cellOf(points[4 * i]!, points[4 * i + 1]!, width, height),
  )
}

function agreeingOf(weights: Float64Array): number[] {
  return [...weights.keys()].filter((i) => weights[i]! > 0)
}

function weighted(
  points: readonly number[],
  model: MotionModel,
  size: StillSize,
  reducedPx: number,
  cells: readonly number[],
): { readonly parameters: Float64Array; readonly weights: Float64Array } | null {
  const all = [...cells.keys()]
  const agreePx = Math.max(LEAST_AGREE_PX, AGREE_REDUCED_PX * reducedPx)
  const off = (index: number, parameters: ArrayLike<number>): number => {
    const place = model.at(index, parameters)
    if (place === null) return Infinity
    return Math.hypot(points[4 * index + 2]! - place[0], points[4 * index + 3]! - place[1])
  }
  const score = (parameters: ArrayLike<number> | null): number => {
    const counted = new Uint16Array(ACROSS * DOWN)
    for (const i of all) if (parameters === null || off(i, parameters) <= agreePx) counted[cells[i]!]!++
    return counted.reduce((sum, here) => sum + Math.min(here, MOST_A_CELL), 0)
  }
  let parameters: Float64Array = Float64Array.from(model.near(0, 0, 0, 0))
  let best = score(parameters)
  const most = score(null)
  for (const trial of starts(points, model, size)) {
    if (best >= ENOUGH * most) break
    const its = score(trial)
    if (its > best) [parameters, best] = [trial, its]
  }
  let weights: Float64Array = Float64Array.from(all, (i) => (off(i, parameters) <= agreePx ? 1 : 0))
  for (let round = 0; round < ROUNDS; round++) {
    const step = stepOf(points, model, parameters, capped(weights, cells))
    if (step === null) return null
    parameters = parameters.map((value, k) => value + step[k]!)
    const offs = all.map((i) => off(i, parameters))
    const sigma = 1.4826 * median(offs.filter((each) => each <= 2 * agreePx))
    if (!Number.isFinite(sigma)) return null
    const end = TUKEY * Math.max(sigma, LEAST_SIGMA_REDUCED_PX * reducedPx)
    weights = Float64Array.from(offs, (each) => (each < end ? (1 - (each / end) ** 2) ** 2 : 0))
  }
  return { parameters, weights }
}

/** Parameters that two matches tell, far enough apart, drawn in an order of their own. */
function* starts(points: readonly number[], model: MotionModel, size: StillSize): Generator<Float64Array> {
  const count = points.length / 4
  const random = seededRandom(7)
  const draw = (): number => 4 * Math.floor(random.uniform() * count)
  const middle = [size.width / 2, size.height / 2] as const
  for (let trial = 0; trial < TRIALS; trial++) {
    const [i, j] = [draw(), draw()]
    const [ax, ay] = [points[j]! - points[i]!, points[j + 1]! - points[i + 1]!]
    if (Math.hypot(ax, ay) < APART * size.width) continue
    const [bx, by] = [points[j + 2]! - points[i + 2]!, points[j + 3]! - points[i + 3]!]
    const roll = Math.atan2(ax * by - ay * bx, ax * bx + ay * by)
    const scale = Math.hypot(bx, by) / Math.hypot(ax, ay)
    if (!(scale > 0)) continue
    const [cos, sin] = [scale * Math.cos(roll), scale * Math.sin(roll)]
    const [mx, my] = [points[i]! - middle[0], points[i + 1]! - middle[1]]
    const shiftX = points[i + 2]! - middle[0] - (cos * mx - sin * my)
    const shiftY = points[i + 3]! - middle[1] - (sin * mx + cos * my)
    let parameters: Float64Array = Float64Array.from(model.near(shiftX, shiftY, roll, Math.log(scale)))
    const weights = new Float64Array(count)
    weights[i / 4] = weights[j / 4] = 1
    for (let step = 0; step < 2; step++) {
      const by4 = stepOf(points, model, parameters, weights)
      if (by4 === null) break
      parameters = parameters.map((value, k) => value + by4[k]!)
    }
    yield parameters
  }
}

/** The weights, those of one cell together no more than `MOST_A_CELL`. */
function capped(weights: Float64Array, cells: readonly number[]): Float64Array {
  const sums = new Map<number, number>()
  weights.forEach((weight, i) => sums.set(cells[i]!, (sums.get(cells[i]!) ?? 0) + weight))
  return weights.map((weight, i) => weight * Math.min(1, MOST_A_CELL / Math.max(1e-9, sums.get(cells[i]!)!)))
}

interface Slopes {
  /** What is left of the match, px, and its slopes by the parameters. */
  readonly left: readonly [number, number]
  readonly slopes: readonly [Float64Array, Float64Array]
}

/** By the parameters: radians or px, and a logarithm; small enough that what bends does not show, large enough for double arithmetic. */
const SLOPE_STEP = 1e-5

function slopesAt(
  points: readonly number[],
  model: MotionModel,
  parameters: Float64Array,
  index: number,
): Slopes | null {
  const place = model.at(index, parameters)
  if (place === null) return null
  const slopes = [new Float64Array(PARAMETERS), new Float64Array(PARAMETERS)] as const
  const moved = parameters.slice()
  for (let k = 0; k < PARAMETERS; k++) {
    moved[k] = parameters[k]! + SLOPE_STEP
    const ahead = model.at(index, moved)
    moved[k] = parameters[k]! - SLOPE_STEP
    const behind = model.at(index, moved)
    moved[k] = parameters[k]!
    if (ahead === null || behind === null) return null
    for (const axis of [0, 1] as const) slopes[axis][k] = (ahead[axis] - behind[axis]) / (2 * SLOPE_STEP)
  }
  return { left: [points[4 * index + 2]! - place[0], points[4 * index + 3]! - place[1]], slopes }
}

/** One step of Gauss and Newton on the weighted matches; null where they do not tell the parameters. */
function stepOf(
  points: readonly number[],
  model: MotionModel,
  parameters: Float64Array,
  weights: Float64Array,
): Float64Array | null {
  const normal = new Float64Array(PARAMETERS ** 2)
  const right = new Float64Array(PARAMETERS)
  weights.forEach((weight, index) => {
    const at = weight > 0 ? slopesAt(points, model, parameters, index) : null
    if (at !== null) for (const axis of [0, 1] as const) addTo(normal, right, weight, at, axis)
  })
  const step = new Float64Array(PARAMETERS)
  return choleskySolve(normal, right, step) && step.every(Number.isFinite) ? step : null
}

function addTo(
  normal: Float64Array,
  right: Float64Array,
  weight: number,
  { left, slopes }: Slopes,
  axis: 0 | 1,
): void {
  for (let a = 0; a < PARAMETERS; a++) {
    right[a]! += weight * slopes[axis][a]! * left[axis]
    for (let b = 0; b < PARAMETERS; b++)
      normal[a * PARAMETERS + b]! += weight * slopes[axis][a]! * slopes[axis][b]!
  }
}

/** The covariance of the parameters where what is left of matches of one cell goes together (the sandwich of H. White, by clusters). */
function clusteredCovariance(
  points: readonly number[],
  model: MotionModel,
  parameters: Float64Array,
  weights: Float64Array,
  cells: readonly number[],
): Float64Array | null {
  const normal = new Float64Array(PARAMETERS ** 2)
  const right = new Float64Array(PARAMETERS)
  const byCell = new Map<number, Float64Array>()
  weights.forEach((weight, index) => {
    const at = weight > 0 ? slopesAt(points, model, parameters, index) : null
    if (at === null) return
    const own = byCell.get(cells[index]!) ?? new Float64Array(PARAMETERS)
    byCell.set(cells[index]!, own)
    for (const axis of [0, 1] as const) {
      addTo(normal, right, weight, at, axis)
      for (let a = 0; a < PARAMETERS; a++) own[a]! += weight * at.slopes[axis][a]! * at.left[axis]
    }
  })
  const inverse = choleskyInverse(normal, PARAMETERS)
  const clusters = byCell.size
  if (inverse === null || clusters <= PARAMETERS) return null
  const middle = new Float64Array(PARAMETERS ** 2)
  for (const own of byCell.values())
    for (let a = 0; a < PARAMETERS; a++)
      for (let b = 0; b < PARAMETERS; b++) middle[a * PARAMETERS + b]! += own[a]! * own[b]!
  const few = clusters / (clusters - PARAMETERS)
  return product(product(inverse, middle), inverse).map((value) => few * value)
}

function product(a: Float64Array, b: Float64Array): Float64Array {
  return Float64Array.from({ length: PARAMETERS ** 2 }, (_, at) => {
    const [row, column] = [Math.floor(at / PARAMETERS), at % PARAMETERS]
    let sum = 0
    for (let k = 0; k < PARAMETERS; k++) sum += a[row * PARAMETERS + k]! * b[k * PARAMETERS + column]!
    return sum
  })
}
