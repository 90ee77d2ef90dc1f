import { FRAME, type ModuleBox } from '../../chart/printed/chartGeometry.js'
import type { ChartPaper } from '../../chart/printed/chartPapers.js'
import { CODE_COLUMNS, CODE_ROWS, letterCodes } from '../../chart/printed/letterCodes.js'
import { CODE_BOX } from '../../chart/printed/letterSheet.js'
import { stripSheetBelow } from '../../chart/printed/stripSheet.js'
import { boxTo } from '../../math/homography.js'
import type { Point, Quad } from '../../math/point.js'
import { linearFromCode } from '../../math/srgb.js'
import type { PixelRegion, Raster } from '../../still/raster.js'
import { offsetPlane, sheetPlane, type SheetOffset, type SheetPlane } from '../strip/sheetPlane.js'

/** How far from its place under the chart the card is looked for, modules, and turned, degrees: taped by hand. This project's convention. */
const MOST_ASIDE = 1.5
const MOST_UP = 1
const MOST_DOWN = 1.5
const STEP = 0.25
const TURNS_DEG = [-1, -0.5, 0, 0.5, 1]
/** Samples of a cell, a side. */
const SAMPLES = 3
/** How well the cells must go with a code's, and how much better than with the next. Set on painted stills: the right code reaches 0.9, clutter 0.6. */
const LEAST_CORRELATION = 0.75
const LEAST_LEAD = 0.12

/** A card seen under a chart: its number, and how it lies. */
export interface SeenCard {
  readonly number: number
  readonly offset: SheetOffset
}

/** The plane of the sheet flush under a chart whose frame's outer corners are these, px of the still; null where they are no view of a frame. */
export function planeUnder(paper: ChartPaper, corners: Quad): SheetPlane | null {
  const below = stripSheetBelow(paper)
  return sheetPlane(boxTo({ ...FRAME, top: FRAME.top - below, bottom: FRAME.bottom - below }, corners), null)
}

/** The pixels of a still that a box of the sheet covers, so many modules of surroundings included; null where a corner has no place. */
export function regionOf(plane: SheetPlane, box: ModuleBox, around: number): PixelRegion | null {
  const places = [box.left - around, box.right + around].flatMap((x) =>
    [box.top - around, box.bottom + around].map((y) => plane.toPicture(x, y)),
  )
  const seen = places.filter((place): place is Point => place !== null)
  if (seen.length < places.length) return null
  const [xs, ys] = [seen.map(([x]) => x), seen.map(([, y]) => y)]
  const [left, top] = [Math.floor(Math.min(...xs)), Math.floor(Math.min(...ys))]
  return { left, top, width: Math.ceil(Math.max(...xs)) - left, height: Math.ceil(Math.max(...ys)) - top }
}

/** The pixels among which a card's code is looked for. */
export function codeRegion(plane: SheetPlane): PixelRegion | null {
  return regionOf(plane, CODE_BOX, MOST_ASIDE + 1)
}

/**
 * Reads which of these cards lies under a chart by its code, sought around its place; null where none is told beyond doubt. `picture`: code values of the code's
 * surroundings at least, from `left`, `top` of the still on.
 */
export function readCard(picture: Raster, plane: SheetPlane, numbers: readonly number[]): SeenCard | null {
  let best: (SeenCard & { readonly correlation: number }) | null = null
  const bestOf = new Map<number, number>()
  const light = { ...picture, data: Float64Array.from(picture.data, linearFromCode) }
  for (const offset of offsets()) {
    const cells = cellLight(light, offsetPlane(plane, offset))
    if (cells === null) continue
    for (const number of numbers) {
      const correlation = correlate(cells, codePattern(number))
      if (correlation > (bestOf.get(number) ?? -1)) bestOf.set(number, correlation)
      if (correlation > (best?.correlation ?? -1)) best = { number, offset, correlation }
    }
  }
  if (best === null || best.correlation < LEAST_CORRELATION) return null
  const { number, offset, correlation } = best
  const next = Math.max(-1, ...[...bestOf].filter(([other]) => other !== number).map(([, one]) => one))
  return correlation - next < LEAST_LEAD ? null : { number, offset }
}

function* offsets(): Generator<SheetOffset> {
  for (const turnDeg of TURNS_DEG)
    for (let y = -MOST_UP; y <= MOST_DOWN; y += STEP)
      for (let x = -MOST_ASIDE; x <= MOST_ASIDE; x += STEP) yield { x, y, turnRad: (turnDeg * Math.PI) / 180 }
}

/** Light of the code's cells and of a ring of paper around them, row by row; null where one lies outside the picture. */
function cellLight(picture: LightRaster, plane: SheetPlane): Float64Array | null {
  const width = (CODE_BOX.right - CODE_BOX.left) / CODE_COLUMNS
  const light = new Float64Array((CODE_COLUMNS + 2) * (CODE_ROWS + 2))
  for (let cell = 0; cell < light.length; cell += 1) {
    const column = (cell % (CODE_COLUMNS + 2)) - 1
    const row = Math.floor(cell / (CODE_COLUMNS + 2)) - 1
    for (let sample = 0; sample < SAMPLES * SAMPLES; sample += 1) {
      const x = CODE_BOX.left + width * (column + ((sample % SAMPLES) + 0.5) / SAMPLES)
      const y = CODE_BOX.top + row + (Math.floor(sample / SAMPLES) + 0.5) / SAMPLES
      const value = lightAt(picture, plane.toPicture(x, y))
      if (value === null) return null
      light[cell]! += value / SAMPLES ** 2
    }
  }
  return light
}

/** A raster of linear light in place of code values: each pixel is asked for many times. */
type LightRaster = PixelRegion & { readonly data: Float64Array }

/** Linear light between pixels' middles; null outside. */
function lightAt({ left, top, width, height, data }: LightRaster, place: Point | null): number | null {
  if (place === null) return null
  const [x, y] = [place[0] - left - 0.5, place[1] - top - 0.5]
  if (!(x >= 0 && y >= 0 && x < width - 1 && y < height - 1)) return null
  const [i, j] = [Math.floor(x), Math.floor(y)]
  const at = (column: number, row: number): number => data[row * width + column]!
  const above = at(i, j) + (x - i) * (at(i + 1, j) - at(i, j))
  const below = at(i, j + 1) + (x - i) * (at(i + 1, j + 1) - at(i, j + 1))
  return above + (y - j) * (below - above)
}

/** What a code's cells and their ring look like: -1 where dark, 0 on paper. */
function codePattern(number: number): Float64Array {
  const pattern = new Float64Array((CODE_COLUMNS + 2) * (CODE_ROWS + 2))
  letterCodes()[number - 1]!.forEach((cell, index) => {
    const column = (index % CODE_COLUMNS) + 1
    const row = Math.floor(index / CODE_COLUMNS) + 1
    pattern[row * (CODE_COLUMNS + 2) + column] = -cell
  })
  return pattern
}

function correlate(a: Float64Array, b: Float64Array): number {
  let [sa, sb, aa, bb, ab] = [0, 0, 0, 0, 0]
  for (let k = 0; k < a.length; k += 1) {
    const [x, y] = [a[k]!, b[k]!]
    sa += x
    sb += y
    aa += x * x
    bb += y * y
    ab += x * y
  }
  const n = a.length
  const scale = (aa - (sa * sa) / n) * (bb - (sb * sb) / n)
  return scale > 0 ? (ab - (sa * sb) / n) / Math.sqrt(scale) : -1
}
