import { DARK_HALF, FIELD, FRAME, LETTERED_EDGE, LIGHT_HALF, STRIP, type ModuleBox } from './chartGeometry.js'
import type { ByteImage } from '../still/lumaBytes.js'

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

/**
 * Places of a picture where five boxes drawn like the chart correlate with it by `least` or more, the best of each neighbourhood, best
 * first, no more than `most`. Sums over boxes come from integral images (F. Crow, SIGGRAPH 1984), strip by strip.
 */
export function boxSeeds(image: ByteImage, least: number, most: number): BoxSeed[] {
  const seeds: BoxSeed[] = []
  for (const size of SIZES) {
    const across = size * FORESHORTENING
    const halfWidth = Math.round((FIELD.width / 2 - LETTERED_EDGE) * across)
    const halfHeight = Math.round((FIELD.height / 2 - LETTERED_EDGE) * size)
    if (2 * halfWidth >= image.width || 2 * halfHeight >= image.height) continue
    for (let top = 0; top + 2 * halfHeight <= image.height; top += STRIP_ROWS) {
      const rows = Math.min(image.height - top, STRIP_ROWS + 2 * halfHeight)
      searchStrip(image, top, rows, across, size, halfWidth, halfHeight, least, seeds)
    }
  }
  seeds.sort((a, b) => b.correlation - a.correlation)
  const kept: BoxSeed[] = []
  for (const seed of seeds) {
    if (kept.length >= most) break
    const reach = 2.5 * seed.downPxPerModule
    if (!kept.some((other) => Math.abs(other.x - seed.x) < reach && Math.abs(other.y - seed.y) < reach))
      kept.push(seed)
  }
  return kept
}

function searchStrip(
  image: ByteImage,
  top: number,
  rows: number,
  across: number,
  down: number,
  halfWidth: number,
  halfHeight: number,
  least: number,
  seeds: BoxSeed[],
): void {
  const stride = image.width + 1
  const sums = new Float64Array(stride * (rows + 1))
  const squares = new Float64Array(stride * (rows + 1))
  for (let y = 0; y < rows; y += 1) {
    let sum = 0
    let square = 0
    let at = (y + 1) * stride + 1
    let from = (top + y) * image.width
    for (let x = 0; x < image.width; x += 1) {
      const value = image.data[from]!
      sum += value
      square += value * value
      sums[at] = sums[at - stride]! + sum
      squares[at] = squares[at - stride]! + square
      at += 1
      from += 1
    }
  }
  // Offsets of each box's corners against the middle, whole pixels.
  const parts = BOXES.map(({ box }) => {
    const left = Math.round((box.left - FIELD.width / 2) * across)
    const right = Math.round((box.right - FIELD.width / 2) * across)
    const upper = Math.round((box.top - FIELD.height / 2) * down)
    const lower = Math.round((box.bottom - FIELD.height / 2) * down)
    return {
      offsets: [
        upper * stride + left,
        upper * stride + right,
        lower * stride + left,
        lower * stride + right,
      ] as const,
      area: (right - left) * (lower - upper),
    }
  })
  const [sheet, frame, light, dark, strip] = parts as [
    (typeof parts)[0],
    (typeof parts)[0],
    (typeof parts)[0],
    (typeof parts)[0],
    (typeof parts)[0],
  ]
  const n = sheet.area
  const values = BOXES.map((box) => box.value)
  const templateSum =
    n - frame.area + values[2]! * light.area + values[3]! * dark.area + values[4]! * strip.area
  const templateSquare =
    n - frame.area + values[2]! ** 2 * light.area + values[3]! ** 2 * dark.area + values[4]! ** 2 * strip.area
  const templateVariance = templateSquare - templateSum ** 2 / n
  const boxSum = (table: Float64Array, part: (typeof parts)[0], at: number): number =>
    table[at + part.offsets[3]]! -
    table[at + part.offsets[1]]! -
    table[at + part.offsets[2]]! +
    table[at + part.offsets[0]]!
  for (let y = halfHeight; y + halfHeight <= rows && y < halfHeight + STRIP_ROWS; y += STEP_PX) {
    for (let x = halfWidth; x + halfWidth <= image.width; x += STEP_PX) {
      const at = y * stride + x
      const lightSum = boxSum(sums, light, at)
      const darkSum = boxSum(sums, dark, at)
      if (lightSum <= darkSum) continue
      const sheetSum = boxSum(sums, sheet, at)
      const covariance =
        sheetSum -
        boxSum(sums, frame, at) +
        values[2]! * lightSum +
        values[3]! * darkSum +
        values[4]! * boxSum(sums, strip, at) -
        (sheetSum * templateSum) / n
      if (covariance <= 0) continue
      const variance = boxSum(squares, sheet, at) - sheetSum ** 2 / n
      if (!(covariance * covariance > least * least * variance * templateVariance) || variance < n) continue
      seeds.push({
        x,
        y: top + y,
        acrossPxPerModule: across,
        downPxPerModule: down,
        correlation: covariance / Math.sqrt(variance * templateVariance),
      })
    }
  }
}
