import type { ByteImage } from '../../still/searchBytes.js'
import { BOXES, type BoxSeed } from './boxSeeds.js'
import { FIELD, LETTERED_EDGE, type ModuleBox } from '../printed/chartGeometry.js'

/** Sizes tried in every scale, px per module of that scale: a scale's own octave. */
const SIZES = [0.65, 0.8, 1, 1.25]
/** And in the coarsest scale, which has none before it. */
const LARGE_SIZES = [...SIZES, 1.6]
/** Width shortened by a turn: one value between facing and 45 degrees serves both. */
const FORESHORTENING = 0.87
/** What must be in the picture: so much of the sheet, and of either half. */
const LEAST_SHEET = 0.42
const LEAST_HALF = 0.25
/** The light half must be lighter than the dark one by so many code values on average. */
const LEAST_HALVES_DN = 6
const LEAST_CORRELATION = 0.3
/** A place counts as at the edge from so far inside it, modules. */
const SLACK_MODULES = 1.2
/** The best of each neighbourhood, modules. */
const NEIGHBOURHOOD_MODULES = 1.5

/** Sums of code values, and of their squares, over everything above and to the left. */
interface Sums {
  readonly width: number
  readonly height: number
  readonly values: Float64Array
  readonly squares: Float64Array
}

/**
 * Places at a picture's edge where five boxes drawn like the chart hang over the edge and correlate with what is left of them in the picture, the best
 * of each neighbourhood, best first, no more than `most`.
 */
export function edgeSeeds(image: ByteImage, most: number, isCoarsest: boolean): BoxSeed[] {
  const sizes = isCoarsest ? LARGE_SIZES : SIZES
  const { width, height } = image
  const band = Math.ceil(sizes.at(-1)! * FIELD.width)
  const bands =
    Math.min(width, height) <= 2 * band
      ? [{ left: 0, top: 0, width, height }]
      : [
          { left: 0, top: 0, width, height: band },
          { left: 0, top: height - band, width, height: band },
          { left: 0, top: 0, width: band, height },
          { left: width - band, top: 0, width: band, height },
        ]
  const seeds: BoxSeed[] = []
  for (const { left, top, ...size } of bands) {
    const sums = sumsOf(image, left, top, size.width, size.height)
    // Sides of the band that are no sides of the picture.
    const inner = {
      left: left > 0,
      top: top > 0,
      right: left + size.width < width,
      bottom: top + size.height < height,
    }
    for (const down of sizes) searchBand(sums, down * FORESHORTENING, down, inner, left, top, seeds)
  }
  seeds.sort((a, b) => b.correlation - a.correlation)
  const kept: BoxSeed[] = []
  for (const seed of seeds) {
    if (kept.length >= most) break
    const near = NEIGHBOURHOOD_MODULES * seed.downPxPerModule
    if (!kept.some((other) => Math.abs(other.x - seed.x) < near && Math.abs(other.y - seed.y) < near))
      kept.push(seed)
  }
  return kept
}

function sumsOf(
  { data, width: stride }: ByteImage,
  left: number,
  top: number,
  width: number,
  height: number,
): Sums {
  const values = new Float64Array((width + 1) * (height + 1))
  const squares = new Float64Array(values.length)
  for (let y = 0; y < height; y += 1) {
    let [sum, square] = [0, 0]
    let at = (y + 1) * (width + 1) + 1
    let from = (top + y) * stride + left
    for (let x = 0; x < width; x += 1, at += 1, from += 1) {
      const value = data[from]!
      sum += value
      square += value * value
      values[at] = values[at - width - 1]! + sum
      squares[at] = squares[at - width - 1]! + square
    }
  }
  return { width, height, values, squares }
}

interface InnerSides {
  readonly left: boolean
  readonly top: boolean
  readonly right: boolean
  readonly bottom: boolean
}

function searchBand(
  sums: Sums,
  across: number,
  down: number,
  inner: InnerSides,
  left: number,
  top: number,
  seeds: BoxSeed[],
): void {
  const { width, height } = sums
  const halfWidth = (FIELD.width / 2 - LETTERED_EDGE) * across
  const halfHeight = (FIELD.height / 2 - LETTERED_EDGE) * down
  // Along the edge every second place will do.
  const stepX = inner.top || inner.bottom ? 1 : 1
  const stepY = inner.left || inner.right ? 1 : 1
  // What a size between two tried hangs over with, the lesser of them may not.
  const [reachX, reachY] = [halfWidth + SLACK_MODULES * across, halfHeight + SLACK_MODULES * down]
  const box = { n: 0, value: 0 }
  const [ns, values]: [number[], number[]] = [[], []]
  const whole = BOXES.map(
    ({ box: { left: l, right: r, top: t, bottom: b } }) => (r - l) * (b - t) * across * down,
  )
  for (let y = 0; y <= height; y += stepY) {
    const overY = y < reachY || y > height - reachY
    if ((inner.top && y < halfHeight) || (inner.bottom && y > height - halfHeight)) continue
    for (let x = 0; x <= width; x += stepX) {
      if (!overY && !(x < reachX || x > width - reachX)) continue
      if ((inner.left && x < halfWidth) || (inner.right && x > width - halfWidth)) continue
      let covariance = 0
      let [sum, square] = [0, 0]
      let under = 0
      for (let k = 0; k < BOXES.length; k += 1) {
        boxSum(sums, sums.values, BOXES[k]!.box, across, down, x, y, box)
        if (
          (k === 0 && box.n < LEAST_SHEET * whole[0]!) ||
          (k > 1 && k < 4 && box.n < LEAST_HALF * whole[k]!)
        )
          break
        ns[k] = box.n
        values[k] = box.value
        // What lies under the later boxes is ink, 0, so that each adds its own value.
        const value = k === 1 ? -1 : BOXES[k]!.value
        covariance += value * box.value
        sum += value * box.n
        square += k === 0 ? box.n : k === 1 ? -box.n : value * value * box.n
        under = k
      }
      if (under < BOXES.length - 1) continue
      if (values[2]! / ns[2]! - values[3]! / ns[3]! < LEAST_HALVES_DN) continue
      const n = ns[0]!
      const variance = square - (sum * sum) / n
      boxSum(sums, sums.squares, BOXES[0]!.box, across, down, x, y, box)
      const seen = box.value - values[0]! ** 2 / n
      const both = covariance - (sum * values[0]!) / n
      if (both <= 0 || variance <= 0 || seen < n) continue
      const correlation = both / Math.sqrt(variance * seen)
      if (correlation < LEAST_CORRELATION) continue
      seeds.push({
        x: left + x,
        y: top + y,
        acrossPxPerModule: across,
        downPxPerModule: down,
        correlation,
      })
    }
  }
}

/** Sum over the part of a box that lies in the band, and its pixels. */
function boxSum(
  { width, height }: Sums,
  table: Float64Array,
  { left, top, right, bottom }: ModuleBox,
  across: number,
  down: number,
  x: number,
  y: number,
  out: { n: number; value: number },
): void {
  const clamp = (at: number, most: number): number => (at < 0 ? 0 : at > most ? most : at)
  const l = clamp(Math.round(x + (left - FIELD.width / 2) * across), width)
  const r = clamp(Math.round(x + (right - FIELD.width / 2) * across), width)
  const t = clamp(Math.round(y + (top - FIELD.height / 2) * down), height) * (width + 1)
  const b = clamp(Math.round(y + (bottom - FIELD.height / 2) * down), height) * (width + 1)
  out.n = (r - l) * ((b - t) / (width + 1))
  out.value = table[b + r]! - table[t + r]! - table[b + l]! + table[t + l]!
}
