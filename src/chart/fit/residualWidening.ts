import { choleskySolve } from '../../math/cholesky.js'

/** Neighbours up to so many pixels away are looked at; residuals farther apart are taken for independent. */
const REACH_PX = 5
const MOST_WIDENING = 8
/** Correlations fade out to nothing at this distance, px, and are left out where few pairs tell them. */
const TAPER_PX = 7.5
const LEAST_PAIRS = 20
/** What the fit took out of the residuals is worked out at one in so many pixels. */
const HAT_EVERY = 5
/** Pairs begin at so many pixels, spread evenly: more tell no more. */
const MOST_BEGINNINGS = 4000

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
  const { x, y, weights, variance, size, slopes, inverse } = fit
  const count = x.length
  const results = directions.length
  const influences = new Float64Array(count * results)
  const own = new Float64Array(results)
  for (const [k, direction] of directions.entries())
    own[k] = writeInfluences(fit, timesMatrix(inverse, direction, 0, size), influences, k, results)
  const hats = new Float64Array((Math.floor(count / HAT_EVERY) + 1) * size)
  const every = Math.max(1, Math.floor(count / MOST_BEGINNINGS))
  const hatEvery = HAT_EVERY * every
  for (let at = 0; at < count; at += hatEvery)
    hats.set(timesMatrix(inverse, slopes, at * size, size), (at / hatEvery) * size)
  const { grid, place, width } = pixelGrid(x, y, weights)
  const ratios = directions.map(() => 1)
  const pairs = { ...fit, influences, hats, results, grid, place, every, hatEvery }
  for (let down = 0; down < REACH_PX; down += 1)
    for (let across = down === 0 ? 1 : 1 - REACH_PX; across < REACH_PX; across += 1) {
      const seen = pairsApart(pairs, down * width + across)
      if (seen.pairs < LEAST_PAIRS || seen.looked === 0) continue
      const correlation = seen.products / variance / seen.pairs + seen.taken / seen.looked
      const taper = Math.max(0, 1 - Math.hypot(down, across) / TAPER_PX)
      for (let k = 0; k < results; k += 1)
        ratios[k]! += (2 * every * taper * correlation * seen.together[k]!) / own[k]!
    }
  return ratios.map((ratio) => Math.min(MOST_WIDENING, Math.max(1, ratio)))
}

interface InfluencePairs extends FitInfluence {
  readonly influences: Float64Array
  readonly hats: Float64Array
  readonly results: number
  readonly grid: Int32Array
  readonly place: Int32Array
  readonly every: number
  readonly hatEvery: number
}

/** Sums over the pairs of kept pixels `step` places of the grid apart: of them, of their residuals' and their influences' products, and of what the fit took out of some. */
function pairsApart(from: InfluencePairs, step: number) {
  const { weights, residuals, size, slopes, influences, hats, results, grid, place, every, hatEvery } = from
  const together = new Float64Array(results)
  let pairs = 0
  let products = 0
  let looked = 0
  let taken = 0
  for (let at = 0; at < weights.length; at += every) {
    if (weights[at] === 0) continue
    const other = grid[place[at]! + step]! - 1
    if (other < 0) continue
    pairs += 1
    products += residuals[at]! * residuals[other]!
    const here = at * results
    const there = other * results
    for (let k = 0; k < results; k += 1) together[k]! += influences[here + k]! * influences[there + k]!
    if (at % hatEvery !== 0) continue
    looked += 1
    const hat = (at / hatEvery) * size
    const slope = other * size
    for (let k = 0; k < size; k += 1) taken += hats[hat + k]! * slopes[slope + k]!
  }
  return { pairs, products, looked, taken, together }
}

/** Writes what each kept pixel does to result `k` of `results`; returns the sum of squares. */
function writeInfluences(
  { weights, slopes, size }: FitInfluence,
  pull: Float64Array,
  out: Float64Array,
  k: number,
  results: number,
): number {
  let squares = 0
  for (let at = 0; at < weights.length; at += 1) {
    if (weights[at] === 0) continue
    let sum = 0
    for (let m = 0; m < size; m += 1) sum += pull[m]! * slopes[at * size + m]!
    out[at * results + k] = sum
    squares += sum * sum
  }
  return squares
}

/** A symmetric matrix times the vector that begins at `from`. */
function timesMatrix(matrix: Float64Array, vector: Float64Array, from: number, size: number): Float64Array {
  const out = new Float64Array(size)
  for (let k = 0; k < size; k += 1) {
    let sum = 0
    for (let m = 0; m < size; m += 1) sum += matrix[k * size + m]! * vector[from + m]!
    out[k] = sum
  }
  return out
}

/** The kept pixels in their places, with free ground around: `grid` has each one's number and one more at `place`; 0 where none lies. */
function pixelGrid(
  x: Float64Array,
  y: Float64Array,
  weights: Float64Array,
): { readonly grid: Int32Array; readonly place: Int32Array; readonly width: number } {
  const [left, right] = bounds(x)
  const [top, bottom] = bounds(y)
  const width = Math.round(right - left) + 1 + 2 * REACH_PX
  const height = Math.round(bottom - top) + 1 + 2 * REACH_PX
  const grid = new Int32Array(width * height)
  const place = new Int32Array(x.length)
  for (let at = 0; at < x.length; at += 1) {
    place[at] = (y[at]! - top + REACH_PX) * width + (x[at]! - left + REACH_PX)
    if (weights[at] !== 0) grid[place[at]!] = at + 1
  }
  return { grid, place, width }
}

function bounds(values: Float64Array): readonly [number, number] {
  let [low, high] = [Infinity, -Infinity]
  for (const value of values) {
    if (value < low) low = value
    if (value > high) high = value
  }
  return [low, high]
}

/** Side of the blocks, px: what codecs move, skip and quantise as one. */
const BLOCK_PX = 16

/**
 * Variances of some results from how they move as one block of pixels after another is left out: the jackknife over blocks (J. Shao, C. F. J. Wu, Ann. Statist. 17 (1989)
 * 1176), which asks nothing of the noise but that blocks do not hang together. `matrix` is the normal matrix, `directions` are results as weights of the parameters. Null
 * where some block alone holds what the fit knows of a parameter.
 */
export function blockScatter(
  { x, y, weights, residuals, size, slopes }: Omit<FitInfluence, 'variance' | 'inverse'>,
  matrix: Float64Array,
  directions: readonly Float64Array[],
): readonly number[] | null {
  const blocks = new Map<number, number[]>()
  for (let at = 0; at < x.length; at += 1) {
    if (weights[at] === 0) continue
    const key = Math.floor(x[at]! / BLOCK_PX) * 65536 + Math.floor(y[at]! / BLOCK_PX)
    const block = blocks.get(key)
    if (block === undefined) blocks.set(key, [at])
    else block.push(at)
  }
  const variances = directions.map(() => 0)
  const right = new Float64Array(size)
  const moved = new Float64Array(size)
  const share = (blocks.size - 1) / blocks.size
  for (const block of blocks.values()) {
    const rest = matrix.slice()
    right.fill(0)
    for (const at of block) {
      const row = slopes.subarray(at * size, (at + 1) * size)
      for (let i = 0; i < size; i += 1) {
        right[i]! += row[i]! * residuals[at]!
        for (let j = 0; j < size; j += 1) rest[i * size + j]! -= row[i]! * row[j]!
      }
    }
    if (!choleskySolve(rest, right, moved)) return null
    directions.forEach((direction, k) => {
      const by = direction.reduce((sum, weight, i) => sum + weight * moved[i]!, 0)
      variances[k]! += share * by * by
    })
  }
  return variances
}
