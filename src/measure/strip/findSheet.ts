import { FIELD } from '../../chart/printed/chartGeometry.js'
import type { ChartPaper } from '../../chart/printed/chartPapers.js'
import { barEdges, STRIP_BOXES, STRIP_COVERAGE } from '../../chart/printed/stripSheet.js'
import { pxPerModule, type LinearPicture, type SheetOffset, type SheetPlane } from './sheetPlane.js'

/** How far from its nominal place the sheet is looked for, modules and degrees: a sheet taped by hand, its upper margin cut off or a gap left. This project's convention. */
const MOST_ASIDE = 1.5
const MOST_UP = 1.3
const MOST_DOWN = 2.5
/** How far aside a turned sheet's ends are of its middle. */
const DRIFT = 0.2
const TURNS_DEG = [0, -0.5, 0.5, -1, 1, -1.5, 1.5, -2, 2]
const LEAST_CELLS = 4
const MOST_CELLS = 10

/** The part of the sheet's plane in which its strips are looked for, modules. */
export const SEARCHED = {
  left: STRIP_BOXES.faint.left - MOST_ASIDE - DRIFT,
  right: STRIP_BOXES.faint.right + MOST_ASIDE + DRIFT,
  top: STRIP_BOXES.faint.top - MOST_UP,
  bottom: STRIP_BOXES.black.bottom + MOST_DOWN,
} as const

/** The best place of the sheet in the coarse, and how well the picture correlates with it there, 1 at most. */
export interface SheetSeen {
  readonly offset: SheetOffset
  readonly correlation: number
}

/** The plane around the sheet as cells, light row by row; NaN outside the picture. */
interface PlaneRaster {
  readonly cells: number
  readonly columns: number
  readonly rows: number
  readonly light: Float64Array
}

/** Looks for the sheet around its nominal place by correlation with its whole pattern. */
export function findSheet(picture: LinearPicture, plane: SheetPlane, paper: ChartPaper): SheetSeen | null {
  const scale = pxPerModule(plane, FIELD.width / 2, FIELD.height / 2)
  if (scale === null) return null
  const raster = planeRaster(picture, plane, scale)
  const pattern = rowPattern(paper, raster.cells, Math.max(1 / raster.cells, 1.5 / scale.along))
  const profile = correlateRows(raster, pattern)
  return bestPlace(raster, profile)
}

function planeRaster(
  picture: LinearPicture,
  plane: SheetPlane,
  scale: { along: number; across: number },
): PlaneRaster {
  const cells = Math.round(Math.min(MOST_CELLS, Math.max(LEAST_CELLS, Math.max(scale.along, scale.across))))
  const fine = Math.max(1, Math.round(Math.max(scale.along, scale.across) / cells))
  const columns = Math.round((SEARCHED.right - SEARCHED.left) * cells)
  const rows = Math.round((SEARCHED.bottom - SEARCHED.top) * cells)
  const light = new Float64Array(columns * rows)
  for (let row = 0; row < rows; row += 1)
    for (let column = 0; column < columns; column += 1) {
      let sum = 0
      for (let j = 0; j < fine; j += 1)
        for (let i = 0; i < fine; i += 1) {
          const x = SEARCHED.left + (column + (i + 0.5) / fine) / cells
          const y = SEARCHED.top + (row + (j + 0.5) / fine) / cells
          sum += lightAt(picture, plane.toPicture(x, y))
        }
      light[row * columns + column] = sum / fine ** 2
    }
  return { cells, columns, rows, light }
}

function lightAt(
  { image: { width, height }, light }: LinearPicture,
  place: readonly [number, number] | null,
): number {
  if (place === null) return NaN
  const [x, y] = [place[0] - 0.5, place[1] - 0.5]
  if (!(x >= 0 && y >= 0 && x < width - 1 && y < height - 1)) return NaN
  const [i, j] = [Math.floor(x), Math.floor(y)]
  const at = j * width + i
  const above = light[at]! + (x - i) * (light[at + 1]! - light[at]!)
  const below = light[at + width]! + (x - i) * (light[at + width + 1]! - light[at + width]!)
  return above + (y - j) * (below - above)
}

/** The pattern's light along a row of cells, each the mean over `wide` modules, freed of its mean, of unit length. */
function rowPattern(paper: ChartPaper, cells: number, wide: number): Float64Array {
  const edges = barEdges(paper)
  const { left, right } = STRIP_BOXES.black
  const pattern = new Float64Array(Math.round((right - left) * cells))
  for (let cell = 0; cell < pattern.length; cell += 1) {
    const at = left + (cell + 0.5) / cells
    for (let bar = 0; bar < edges.length; bar += 2)
      pattern[cell]! -= Math.max(
        0,
        Math.min(at + wide / 2, edges[bar + 1]!) - Math.max(at - wide / 2, edges[bar]!),
      )
  }
  const mean = pattern.reduce((sum, value) => sum + value, 0) / pattern.length
  const length = Math.sqrt(pattern.reduce((sum, value) => sum + (value - mean) ** 2, 0))
  return pattern.map((value) => (value - mean) / length)
}

/** Per row and shift of the pattern along it: how much of the pattern is there, and the row's energy beneath it. */
interface RowProfile {
  readonly shifts: number
  readonly like: Float64Array
  readonly energy: Float64Array
}

function correlateRows({ columns, rows, light }: PlaneRaster, pattern: Float64Array): RowProfile {
  const shifts = columns - pattern.length + 1
  const like = new Float64Array(rows * shifts)
  const energy = new Float64Array(rows * shifts)
  for (let row = 0; row < rows; row += 1)
    for (let shift = 0; shift < shifts; shift += 1) {
      const from = row * columns + shift
      let [sum, squares, product] = [0, 0, 0]
      for (let cell = 0; cell < pattern.length; cell += 1) {
        const value = light[from + cell]!
        sum += value
        squares += value * value
        product += value * pattern[cell]!
      }
      like[row * shifts + shift] = product
      energy[row * shifts + shift] = squares - (sum * sum) / pattern.length
    }
  return { shifts, like, energy }
}

function bestPlace({ cells, rows }: PlaneRaster, { shifts, like, energy }: RowProfile): SheetSeen | null {
  const { faint, black } = STRIP_BOXES
  const tall = Math.round((black.bottom - faint.top) * cells)
  const weights = Array.from({ length: tall }, (_, row) => {
    const y = faint.top + (row + 0.5) / cells
    return y < faint.bottom ? STRIP_COVERAGE.faint : y > black.top ? STRIP_COVERAGE.black : 0
  })
  const length = Math.sqrt(weights.reduce((sum, weight) => sum + weight ** 2, 0))
  let best: SheetSeen | null = null
  for (const turnDeg of TURNS_DEG) {
    const turnRad = (turnDeg * Math.PI) / 180
    const drifts = weights.map((_, row) =>
      Math.round(-Math.tan(turnRad) * (faint.top + (row + 0.5) / cells - FIELD.height / 2) * cells),
    )
    const spare = Math.max(...drifts.map(Math.abs))
    for (let down = 0; down + tall <= rows; down += 1)
      for (let shift = spare; shift < shifts - spare; shift += 1) {
        let [product, squares] = [0, 0]
        for (let row = 0; row < tall; row += 1) {
          const at = (down + row) * shifts + shift + drifts[row]!
          product += weights[row]! * like[at]!
          squares += energy[at]!
        }
        const correlation = product / (length * Math.sqrt(squares))
        if (correlation > (best?.correlation ?? -1))
          best = {
            offset: { x: shift / cells - MOST_ASIDE - DRIFT, y: down / cells - MOST_UP, turnRad },
            correlation,
          }
      }
  }
  return best
}
