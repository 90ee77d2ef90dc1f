import {
  DARK_HALF,
  FIELD,
  FRAME,
  LETTERED_EDGE,
  LIGHT_HALF,
  STRIP,
  type ModuleBox,
} from '../printed/chartGeometry.js'
import type { ByteImage } from '../../still/searchBytes.js'

/** A place where the chart may stand, upright, from its coarsest features alone; px of the picture searched. */
export interface BoxSeed {
  readonly x: number
  readonly y: number
  readonly acrossPxPerModule: number
  readonly downPxPerModule: number
  /** Correlation with the chart drawn in five boxes, -1..1. */
  readonly correlation: number
}

/** The chart as five even boxes, code values between ink 0 and paper 1; a box's value counts where no later one covers it. */
const BOXES: readonly { readonly box: ModuleBox; readonly value: number }[] = [
  {
    box: {
      left: LETTERED_EDGE,
      top: LETTERED_EDGE,
      right: FIELD.width - LETTERED_EDGE,
      bottom: FIELD.height - LETTERED_EDGE,
    },
    value: 1,
  },
  { box: FRAME, value: 0 },
  { box: LIGHT_HALF, value: 0.77 },
  { box: DARK_HALF, value: 0.23 },
  { box: STRIP, value: 0.65 },
]

/** Sizes tried in every scale, px per module of that scale: a scale's own octave in steps of 1.4. */
const SIZES = [0.65, 0.9, 1.25]
/** Width shortened by a turn: one value between facing and 45 degrees serves both. */
const FORESHORTENING = 0.87
const STEP_PX = 2
const STRIP_ROWS = 128
/** The light half must be lighter than the dark one by so many code values on average. */
const LEAST_HALVES_DN = 4

/** Sums of code values and of their squares over everything above and to the left, modulo 2^32: differences of four are exact. */
interface Sums {
  readonly values: Int32Array
  readonly squares: Int32Array
  readonly stride: number
  readonly rows: number
}

/**
 * Places of a picture where five boxes drawn like the chart correlate with it by `least` or more, the best of each neighbourhood, best
 * first, no more than `most`. Sums over boxes come from integral images (F. Crow, SIGGRAPH 1984), strip by strip.
 */
export function boxSeeds(image: ByteImage, least: number, most: number): BoxSeed[] {
  const seeds: BoxSeed[] = []
  const patterns = SIZES.map((size) => boxPattern(size * FORESHORTENING, size, image.width + 1)).filter(
    ({ halfWidth, halfHeight }) => 2 * halfWidth < image.width && 2 * halfHeight < image.height,
  )
  const reach = Math.max(0, ...patterns.map(({ halfHeight }) => halfHeight))
  const mostRows = STRIP_ROWS + 2 * reach
  const values = new Int32Array((image.width + 1) * (mostRows + 1))
  const squares = new Int32Array(values.length)
  for (let top = 0; top < image.height; top += STRIP_ROWS) {
    const rows = Math.min(image.height - top, mostRows)
    const sums = { values, squares, stride: image.width + 1, rows }
    writeSums(image, top, sums)
    for (const pattern of patterns) searchStrip(pattern, sums, top, least, seeds)
  }
  seeds.sort((a, b) => b.correlation - a.correlation)
  const kept: BoxSeed[] = []
  for (const seed of seeds) {
    if (kept.length >= most) break
    const near = 2.5 * seed.downPxPerModule
    if (!kept.some((other) => Math.abs(other.x - seed.x) < near && Math.abs(other.y - seed.y) < near))
      kept.push(seed)
  }
  return kept
}

function writeSums(image: ByteImage, top: number, { values, squares, stride, rows }: Sums): void {
  const { width, data } = image
  for (let y = 0; y < rows; y += 1) {
    let sum = 0
    let square = 0
    let at = (y + 1) * stride + 1
    let from = (top + y) * width
    for (let x = 0; x < width; x += 1, at += 1, from += 1) {
      const value = data[from]!
      sum += value
      square += value * value
      values[at] = values[at - stride]! + sum
      squares[at] = squares[at - stride]! + square
    }
  }
}

/** The five boxes at one size: offsets of their corners in a table of sums against the middle's, and areas. */
interface BoxPattern {
  readonly across: number
  readonly down: number
  readonly halfWidth: number
  readonly halfHeight: number
  /** Four offsets a box: top left, top right, bottom left, bottom right. */
  readonly offsets: Int32Array
  readonly areas: readonly number[]
  readonly sum: number
  readonly variance: number
}

function boxPattern(across: number, down: number, stride: number): BoxPattern {
  const offsets = new Int32Array(20)
  const areas = BOXES.map(({ box }, index) => {
    const left = Math.round((box.left - FIELD.width / 2) * across)
    const right = Math.round((box.right - FIELD.width / 2) * across)
    const upper = Math.round((box.top - FIELD.height / 2) * down)
    const lower = Math.round((box.bottom - FIELD.height / 2) * down)
    const rows = [upper * stride, lower * stride] as const
    offsets.set([rows[0] + left, rows[0] + right, rows[1] + left, rows[1] + right], 4 * index)
    return (right - left) * (lower - upper)
  })
  const [sheet, frame, light, dark, strip] = areas as [number, number, number, number, number]
  const values = BOXES.map((box) => box.value) as [number, number, number, number, number]
  const sum = sheet - frame + values[2] * light + values[3] * dark + values[4] * strip
  const squares = sheet - frame + values[2] ** 2 * light + values[3] ** 2 * dark + values[4] ** 2 * strip
  return {
    across,
    down,
    halfWidth: Math.round((FIELD.width / 2 - LETTERED_EDGE) * across),
    halfHeight: Math.round((FIELD.height / 2 - LETTERED_EDGE) * down),
    offsets,
    areas,
    sum,
    variance: squares - sum ** 2 / sheet,
  }
}

function searchStrip(pattern: BoxPattern, sums: Sums, top: number, least: number, seeds: BoxSeed[]): void {
  const { halfWidth, halfHeight, offsets, areas } = pattern
  const { values, squares, stride, rows } = sums
  const n = areas[0]!
  const leastDifference = LEAST_HALVES_DN * areas[2]!
  const least2 = least * least * pattern.variance
  for (let y = halfHeight; y + halfHeight <= rows && y < halfHeight + STRIP_ROWS; y += STEP_PX) {
    for (let x = halfWidth; x + halfWidth < stride; x += STEP_PX) {
      const at = y * stride + x
      const light = boxSum(values, offsets, 8, at)
      const dark = boxSum(values, offsets, 12, at)
      if (light - dark < leastDifference) continue
      const sheet = boxSum(values, offsets, 0, at)
      const covariance =
        sheet -
        boxSum(values, offsets, 4, at) +
        BOXES[2]!.value * light +
        BOXES[3]!.value * dark +
        BOXES[4]!.value * boxSum(values, offsets, 16, at) -
        (sheet * pattern.sum) / n
      if (covariance <= 0) continue
      const variance = boxSum(squares, offsets, 0, at) - sheet ** 2 / n
      if (!(covariance * covariance > least2 * variance) || variance < n) continue
      seeds.push({
        x,
        y: top + y,
        acrossPxPerModule: pattern.across,
        downPxPerModule: pattern.down,
        correlation: covariance / Math.sqrt(variance * pattern.variance),
      })
    }
  }
}

function boxSum(table: Int32Array, offsets: Int32Array, box: number, at: number): number {
  const sum =
    table[at + offsets[box + 3]!]! -
    table[at + offsets[box + 1]!]! -
    table[at + offsets[box + 2]!]! +
    table[at + offsets[box]!]!
  return sum >>> 0
}
