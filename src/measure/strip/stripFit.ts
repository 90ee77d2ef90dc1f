import { choleskyInverse } from '../../math/cholesky.js'
import type { ModuleBox } from '../../chart/printed/chartGeometry.js'
import { BANDS, type StripBands } from './stripBands.js'
import type { StripPixels } from './stripPixels.js'

/** What is left to find of a strip's place once the sheet is found: its pattern is read at px + shift + stretch t + lean v + bend t^2, t along and v across the sheet, -1 to 1. */
export interface StripPlace {
  readonly shift: number
  readonly stretch: number
  readonly lean: number
  readonly bend: number
}

/** Pieces of a strip, along and across, from whose scatter the uncertainties come. */
export const PIECES = { along: 4, across: 2 } as const

/** Columns of the regression: the bands, paper's level, its slopes along and across, the four of the place. */
const LEVEL = BANDS
const PLACE = BANDS + 3
const COLUMNS = BANDS + 7

/** How a strip's pixels stand to its pattern: px along it per module, its own box and that of both strips, modules of the sheet. */
export interface StripFrame {
  readonly bands: StripBands
  readonly pxPerModule: number
  readonly box: ModuleBox
  readonly sheet: ModuleBox
}

/** Sums of the regression over one piece. */
interface PieceSums {
  readonly matrix: Float64Array
  readonly right: Float64Array
}

/** One regression: the bands' swing, light (how much darker a bar is there than paper), paper's level, and the place's change. */
export interface StripSolution {
  readonly swings: readonly number[]
  readonly level: number
  readonly slopes: readonly [number, number]
  readonly step: StripPlace
}

/** Sums per piece at a place; `swings` are those by which a change of the place is told, null where it is not asked for. */
export function pieceSums(
  pixels: StripPixels,
  frame: StripFrame,
  place: StripPlace,
  swings: readonly number[] | null,
): PieceSums[] {
  const sums = Array.from({ length: PIECES.along * PIECES.across }, () => ({
    matrix: new Float64Array(COLUMNS * COLUMNS),
    right: new Float64Array(COLUMNS),
  }))
  const row = new Float64Array(COLUMNS)
  const writeRow = rowWriter(frame, place, swings)
  for (let at = 0; at < pixels.x.length; at += 1) {
    const { matrix, right } = sums[writeRow(pixels.x[at]!, pixels.y[at]!, row)]!
    const light = pixels.light[at]!
    for (let i = 0; i < COLUMNS; i += 1) {
      const value = row[i]!
      if (value === 0) continue
      right[i]! += value * light
      for (let j = 0; j <= i; j += 1) matrix[i * COLUMNS + j]! += value * row[j]!
    }
  }
  return sums
}

/** Writes the regression's row of a place on the sheet; gives the number of its piece. */
function rowWriter(
  { bands, pxPerModule, box, sheet }: StripFrame,
  place: StripPlace,
  swings: readonly number[] | null,
): (x: number, y: number, row: Float64Array) => number {
  const values = new Float64Array(BANDS)
  const slopes = new Float64Array(BANDS)
  const middle = (sheet.left + sheet.right) / 2
  const half = (sheet.right - sheet.left) / 2
  const sheetMiddle = (sheet.top + sheet.bottom) / 2
  const sheetHalf = (sheet.bottom - sheet.top) / 2
  const boxMiddle = (box.top + box.bottom) / 2
  const boxHalf = (box.bottom - box.top) / 2
  return (x, y, row) => {
    const t = (x - middle) / half
    const v = (y - sheetMiddle) / sheetHalf
    const px =
      (x - sheet.left) * pxPerModule + place.shift + place.stretch * t + place.lean * v + place.bend * t * t
    bands.at(px, values, slopes)
    let slope = 0
    for (let band = 0; band < BANDS; band += 1) {
      row[band] = -values[band]!
      if (swings !== null) slope -= swings[band]! * slopes[band]!
    }
    const across = (y - boxMiddle) / boxHalf
    row[LEVEL] = 1
    row[LEVEL + 1] = t
    row[LEVEL + 2] = across
    row[PLACE] = slope
    row[PLACE + 1] = slope * t
    row[PLACE + 2] = slope * v
    row[PLACE + 3] = slope * t * t
    const along = Math.min(PIECES.along - 1, Math.max(0, Math.floor(((t + 1) / 2) * PIECES.along)))
    return along * PIECES.across + (across < 0 ? 0 : 1)
  }
}

/** Solves the regression over all pieces but one (or all: null); null where the strip does not determine it. `free`: columns of the place that are. */
export function solveStrip(
  sums: readonly PieceSums[],
  without: number | null,
  free: readonly (keyof StripPlace)[] = [],
): StripSolution | null {
  const columns = [...Array(PLACE).keys(), ...free.map((name) => PLACE + PLACES.indexOf(name))]
  const k = columns.length
  const matrix = new Float64Array(k * k)
  const right = new Float64Array(k)
  sums.forEach((piece, index) => {
    if (index === without) return
    columns.forEach((column, i) => {
      right[i]! += piece.right[column]!
      for (let j = 0; j <= i; j += 1) matrix[i * k + j]! += piece.matrix[column * COLUMNS + columns[j]!]!
    })
  })
  for (let i = 0; i < k; i += 1) for (let j = 0; j < i; j += 1) matrix[j * k + i] = matrix[i * k + j]!
  const inverse = choleskyInverse(matrix, k)
  if (inverse === null) return null
  const solved = columns.map((_, i) => right.reduce((sum, value, j) => sum + inverse[i * k + j]! * value, 0))
  const stepOf = (name: keyof StripPlace): number =>
    free.includes(name) ? solved[PLACE + free.indexOf(name)]! : 0
  return {
    swings: solved.slice(0, BANDS),
    level: solved[LEVEL]!,
    slopes: [solved[LEVEL + 1]!, solved[LEVEL + 2]!],
    step: { shift: stepOf('shift'), stretch: stepOf('stretch'), lean: stepOf('lean'), bend: stepOf('bend') },
  }
}
const PLACES: readonly (keyof StripPlace)[] = ['shift', 'stretch', 'lean', 'bend']

/** What the regression leaves of every pixel, linear light, and the piece each lies in. */
export function stripResiduals(
  pixels: StripPixels,
  frame: StripFrame,
  place: StripPlace,
  { swings, level, slopes }: StripSolution,
): { readonly left: Float64Array; readonly piece: Uint8Array } {
  const row = new Float64Array(COLUMNS)
  const writeRow = rowWriter(frame, place, null)
  const factors = [...swings, level, ...slopes]
  const left = new Float64Array(pixels.x.length)
  const piece = new Uint8Array(pixels.x.length)
  for (let at = 0; at < left.length; at += 1) {
    piece[at] = writeRow(pixels.x[at]!, pixels.y[at]!, row)
    left[at] = pixels.light[at]! - factors.reduce((sum, factor, i) => sum + factor * row[i]!, 0)
  }
  return { left, piece }
}
