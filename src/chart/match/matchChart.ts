import { choleskySolve } from '../../math/cholesky.js'
import type { ChartTemplate, TemplateSolver } from './template.js'
import type { ByteImage } from '../../still/searchBytes.js'
import { greyAt } from './greyImage.js'
import { composeHomographies, inverseHomography, type Homography } from '../../math/homography.js'
import { FROM_UNIT, TO_UNIT } from './templateSolver.js'

/** How well a template and a picture agree under a map. */
export interface Agreement {
  /** Correlation over the samples kept, -1..1. */
  readonly correlation: number
  /** Share of the template's samples kept: inside the picture, and in a trimmed match no outliers. */
  readonly kept: number
  /** What the template's step from ink to paper is in the picture, code values. */
  readonly gain: number
}

/** Least share of the samples that must lie in the picture for a match to be judged at all. */
const LEAST_INSIDE = 0.75

/** Samples of a picture at the template's points; NaN where they lie outside. `map`: modules to the picture's pixels. */
export function sampleThrough(
  image: ByteImage,
  map: Homography,
  template: ChartTemplate,
  out: Float64Array,
): void {
  const [m0, m1, m2, m3, m4, m5, m6, m7, m8] = map as unknown as number[] as [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ]
  const { columns, rows, count } = template
  const lastX = template.x[count - 1]!
  const lastY = template.y[count - 1]!
  const { width, height, data } = image
  // Where the outermost points lie in the picture, all do, and none needs to be asked.
  let inside = true
  for (let corner = 0; corner < 4 && inside; corner += 1) {
    const x = (corner & 1) === 0 ? template.x[0]! : lastX
    const y = corner < 2 ? template.y[0]! : lastY
    const w = m6 * x + m7 * y + m8
    const column = (m0 * x + m1 * y + m2) / w - 0.5
    const row = (m3 * x + m4 * y + m5) / w - 0.5
    inside = w > 0 && column >= EDGE && row >= EDGE && column < width - 1 - EDGE && row < height - 1 - EDGE
  }
  let at = 0
  for (let line = 0; line < rows; line += 1) {
    const y = template.y[at]!
    const [u, v, q] = [m1 * y + m2, m4 * y + m5, m7 * y + m8]
    for (const end = at + columns; at < end; at += 1) {
      const x = template.x[at]!
      const w = 1 / (m6 * x + q)
      if (inside) {
        const column = (m0 * x + u) * w - 0.5
        const row = (m3 * x + v) * w - 0.5
        const i = column | 0
        const j = row | 0
        const s = column - i
        const from = j * width + i
        const a = data[from]!
        const b = data[from + width]!
        const top = a + s * (data[from + 1]! - a)
        const bottom = b + s * (data[from + width + 1]! - b)
        out[at] = top + (row - j) * (bottom - top)
      } else out[at] = w > 0 ? greyAt(image, (m0 * x + u) * w, (m3 * x + v) * w) : NaN
    }
  }
}

/** How far inside the picture's outermost pixel centres the outermost points must lie, px, for rounding not to carry another one out. */
const EDGE = 1e-6

/** A sum of squares less what noise adds to it, at most half of it: noise is guessed, and texture passes for noise. */
export function withoutNoise(squares: number, noise: number): number {
  return Math.max(squares - noise, 0.5 * squares)
}

/**
 * Correlation of samples (NaN: left out) with a template's values, as it would be without noise of that variance: a dark still is held to the same
 * likeness as a bright one.
 */
export function agreement(
  samples: Float64Array,
  template: ChartTemplate,
  mask?: Uint8Array,
  noiseVariance = 0,
): Agreement {
  let n = template.count
  let s = 0
  let ss = 0
  let st = 0
  let { sum: t, squares: tt } = template
  if (mask === undefined)
    for (let at = 0; at < n; at += 1) {
      const a = samples[at]!
      s += a
      ss += a * a
      st += a * template.value[at]!
    }
  if (mask !== undefined || Number.isNaN(s)) {
    n = s = t = ss = st = tt = 0
    for (let at = 0; at < template.count; at += 1) {
      const a = samples[at]!
      if (Number.isNaN(a) || (mask !== undefined && mask[at] === 0)) continue
      const b = template.value[at]!
      n += 1
      s += a
      t += b
      ss += a * a
      st += a * b
      tt += b * b
    }
  }
  if (n < LEAST_INSIDE * template.count) return { correlation: 0, kept: n / template.count, gain: 0 }
  const varianceS = ss - (s * s) / n
  const varianceT = tt - (t * t) / n
  if (!(varianceS > 0 && varianceT > 0)) return { correlation: 0, kept: n / template.count, gain: 0 }
  const covariance = st - (s * t) / n
  return {
    correlation: covariance / Math.sqrt(withoutNoise(varianceS, n * noiseVariance) * varianceT),
    kept: n / template.count,
    gain: covariance / varianceT,
  }
}

/** Room a refinement works in; nothing in it outlasts the call. */
export interface MatchRoom {
  readonly samples: Float64Array
  readonly solution: Float64Array
  readonly increment: Homography
}

/** Room for templates of up to `count` samples. */
export function matchRoom(count: number): MatchRoom {
  return { samples: new Float64Array(count), solution: new Float64Array(10), increment: new Float64Array(9) }
}

/** Options of a refinement. */
export interface RefineOptions {
  readonly steps: number
  /** Keep the map affine: two degrees of freedom less, for a first approach from afar. */
  readonly affine?: boolean
  /** Leave out samples whose residual is over this many times the median one: what covers a part of the chart. */
  readonly trim?: number
}

/** A step that reaches less far, units, is the last; on a first approach, which others follow, sooner. */
const SETTLED = 1e-4
const NEAR = 1e-2
/** A step moves no corner by more than this many units. */
const MOST_STEP = 0.25

/**
 * Moves a map so that the picture seen through it agrees best with the template, gain and offset free: Gauss-Newton with the increments
 * composed from the template's side (inverse composition; S. Baker and I. Matthews, Int. J. Computer Vision 56 (2004) 221). Returns the
 * map and the mask of samples kept, or null where the equations do not hold (no contrast, out of the picture, reversed tones).
 */
export function refineMatch(
  image: ByteImage,
  start: Homography,
  template: ChartTemplate,
  options: RefineOptions,
  room: MatchRoom,
): { map: Homography; mask: Uint8Array } | null {
  const { count } = template
  const solver = template.solver(options.affine === true)
  const { unknowns } = solver
  const { samples, solution, increment } = room
  const mask = options.trim === undefined ? template.everySample : new Uint8Array(count).fill(1)
  let map = start
  // Small and blurred charts may lead it astray again: the best map on the way is kept, but where the samples that count change.
  let best = start
  let bestCorrelation = -1
  for (let step = 0; step <= options.steps; step += 1) {
    sampleThrough(image, map, template, samples)
    if (options.trim === undefined) {
      const { correlation } = agreement(samples, template)
      if (correlation > bestCorrelation) {
        best = map
        bestCorrelation = correlation
      }
    }
    if (step === options.steps) break
    const trimmed = options.trim !== undefined && step > 2
    if (
      !(!trimmed && solveWhole(samples, count, solver, solution)) &&
      !solvePart(samples, mask, solver, solution)
    )
      return null
    const gain = solution[unknowns - 2]!
    if (!(gain > 0)) return null
    const reach = writeIncrement(solution, unknowns, gain, increment)
    const back = inverseHomography(increment)
    if (back === null) return null
    map = composeHomographies(map, composeHomographies(FROM_UNIT, composeHomographies(back, TO_UNIT)))
    if (options.trim !== undefined && step >= 2)
      trim(samples, template, gain, solution[unknowns - 1]!, options.trim, mask)
    else if (reach < (options.affine === true ? NEAR : SETTLED)) break
  }
  return { map: options.trim === undefined ? best : map, mask }
}

/** The step of a solution as a map near identity, shortened where it would leap; returns how far it reaches. */
function writeIncrement(solution: Float64Array, unknowns: number, gain: number, out: Homography): number {
  const d = (i: number): number => solution[i]! / gain
  const reach = Math.sqrt(d(2) ** 2 + d(5) ** 2) + Math.sqrt(d(0) ** 2 + d(1) ** 2 + d(3) ** 2 + d(4) ** 2)
  const damp = (reach > MOST_STEP ? MOST_STEP / reach : 1) / gain
  for (let i = 0; i < 8; i += 1) out[i] = i < unknowns - 2 ? damp * solution[i]! : 0
  out[0]! += 1
  out[4]! += 1
  out[8] = 1
  return reach
}

/** The solution where every sample counts; false where one lies outside the picture. */
function solveWhole(
  samples: Float64Array,
  count: number,
  solver: TemplateSolver,
  solution: Float64Array,
): boolean {
  const { projection, unknowns } = solver
  if (projection === null) return false
  solution.fill(0, 0, unknowns)
  let at = 0
  for (let k = 0; k < count; k += 1) {
    const sample = samples[k]!
    for (let i = 0; i < unknowns; i += 1, at += 1) solution[i]! += projection[at]! * sample
  }
  return !Number.isNaN(solution[0]!)
}

/** The solution from the samples that lie in the picture and are not masked; false where they are too few or do not determine it. */
function solvePart(
  samples: Float64Array,
  mask: Uint8Array,
  solver: TemplateSolver,
  solution: Float64Array,
): boolean {
  const { design, unknowns } = solver
  const matrix = new Float64Array(unknowns * unknowns)
  const right = new Float64Array(unknowns)
  let used = 0
  for (let at = 0; at < mask.length; at += 1) {
    const sample = samples[at]!
    if (Number.isNaN(sample) || mask[at] === 0) continue
    used += 1
    const row = at * unknowns
    for (let i = 0; i < unknowns; i += 1) {
      const value = design[row + i]!
      right[i]! += value * sample
      for (let j = 0; j <= i; j += 1) matrix[i * unknowns + j]! += value * design[row + j]!
    }
  }
  if (used < LEAST_INSIDE * mask.length) return false
  for (let i = 0; i < unknowns; i += 1)
    for (let j = i + 1; j < unknowns; j += 1) matrix[i * unknowns + j] = matrix[j * unknowns + i]!
  return choleskySolve(matrix, right, solution)
}

function trim(
  samples: Float64Array,
  template: ChartTemplate,
  gain: number,
  offset: number,
  times: number,
  mask: Uint8Array,
): void {
  const residuals = new Float64Array(template.count)
  for (let at = 0; at < template.count; at += 1)
    residuals[at] = Math.abs(samples[at]! - gain * template.value[at]! - offset)
  // NaN, outside the picture, sorts last.
  const sorted = residuals.slice().sort()
  let inside = sorted.length
  while (inside > 0 && Number.isNaN(sorted[inside - 1]!)) inside -= 1
  const limit = Math.max(times * (inside > 0 ? sorted[inside >> 1]! : 0), 0.25 * gain)
  for (let at = 0; at < template.count; at += 1) mask[at] = residuals[at]! <= limit ? 1 : 0
}
