/** Neighbours up to so many pixels away are looked at; residuals farther apart are taken for independent. */
const REACH_PX = 5
const MOST_WIDENING = 8
/** Correlations fade out to nothing at this distance, px, and are left out where few pairs tell them. */
const TAPER_PX = 7.5
const LEAST_PAIRS = 20
/** What the fit took out of the residuals is worked out at one in so many pixels. */
const HAT_EVERY = 5

/** The pixels of a fit with what each does to its results. Rows by pixel. */
export interface FitInfluence {
  readonly x: Float64Array
  readonly y: Float64Array
  readonly weights: Float64Array
  readonly residuals: Float64Array
  readonly variance: number
  /** Number of parameters; slopes of each pixel's code value by them; the inverse of the normal matrix. */
  readonly size: number
  readonly slopes: Float64Array
  readonly inverse: Float64Array
}

/**
 * By how much the variances of some results grow because residuals of neighbouring pixels hang together: JPEG keeps the slow part of the
 * noise, which moves edges, and drops the fast part, which does not; so does noise reduction. `directions` are results as weights of
 * the parameters. The residuals' own correlation at each distance, freed of what the fit took out of them (E r r' = (I - P) S (I - P), P the
 * hat matrix), is applied to the results' influences: the spatial counterpart of T. Conley, J. Econometrics 92 (1999) 1. At least 1.
 */
export function residualWidening(fit: FitInfluence, directions: readonly Float64Array[]): number[] {
  const { x, y, weights, residuals, variance, size, slopes, inverse } = fit
  const count = x.length
  const results = directions.length
  const influences = new Float64Array(count * results)
  const own = new Float64Array(results)
  const pulls = directions.map((direction) => timesMatrix(inverse, direction, 0, size))
  for (let at = 0; at < count; at += 1) {
    if (weights[at] === 0) continue
    for (let k = 0; k < results; k += 1) {
      let sum = 0
      for (let m = 0; m < size; m += 1) sum += pulls[k]![m]! * slopes[at * size + m]!
      influences[at * results + k] = sum
      own[k]! += sum * sum
    }
  }
  const hats = new Map<number, Float64Array>()
  for (let at = 0; at < count; at += HAT_EVERY) hats.set(at, timesMatrix(inverse, slopes, at * size, size))
  const { neighbour, left, top } = pixelGrid(x, y)
  const ratios = directions.map(() => 1)
  const together = new Float64Array(results)
  for (let down = 0; down < REACH_PX; down += 1)
    for (let across = down === 0 ? 1 : 1 - REACH_PX; across < REACH_PX; across += 1) {
      let [pairs, products, looked, taken] = [0, 0, 0, 0]
      together.fill(0)
      for (let at = 0; at < count; at += 1) {
        if (weights[at] === 0) continue
        const other = neighbour(x[at]! - left + across, y[at]! - top + down)
        if (other < 0 || weights[other] === 0) continue
        pairs += 1
        products += residuals[at]! * residuals[other]!
        for (let k = 0; k < results; k += 1)
          together[k]! += influences[at * results + k]! * influences[other * results + k]!
        if (at % HAT_EVERY !== 0) continue
        looked += 1
        const hat = hats.get(at)!
        for (let k = 0; k < size; k += 1) taken += hat[k]! * slopes[other * size + k]!
      }
      if (pairs < LEAST_PAIRS || looked === 0) continue
      const correlation = products / variance / pairs + taken / looked
      const taper = Math.max(0, 1 - Math.hypot(down, across) / TAPER_PX)
      for (let k = 0; k < results; k += 1) ratios[k]! += (2 * taper * correlation * together[k]!) / own[k]!
    }
  return ratios.map((ratio) => Math.min(MOST_WIDENING, Math.max(1, ratio)))
}

/** A symmetric matrix times the vector that begins at `from`. */
function timesMatrix(matrix: Float64Array, vector: Float64Array, from: number, size: number): Float64Array {
  const out = new Float64Array(size)
  for (let k = 0; k < size; k += 1)
    for (let m = 0; m < size; m += 1) out[k]! += matrix[k * size + m]! * vector[from + m]!
  return out
}

/** Which pixel of the list lies at a place counted from the list's top left; -1 where none does. */
function pixelGrid(
  x: Float64Array,
  y: Float64Array,
): { readonly neighbour: (i: number, j: number) => number; readonly left: number; readonly top: number } {
  const [left, right] = bounds(x)
  const [top, bottom] = bounds(y)
  const width = Math.round(right - left) + 1
  const height = Math.round(bottom - top) + 1
  const grid = new Int32Array(width * height).fill(-1)
  for (let at = 0; at < x.length; at += 1) grid[(y[at]! - top) * width + (x[at]! - left)] = at
  const neighbour = (i: number, j: number): number =>
    i < 0 || j < 0 || i >= width || j >= height ? -1 : grid[j * width + i]!
  return { neighbour, left, top }
}

function bounds(values: Float64Array): readonly [number, number] {
  let [low, high] = [Infinity, -Infinity]
  for (const value of values) {
    if (value < low) low = value
    if (value > high) high = value
  }
  return [low, high]
}
