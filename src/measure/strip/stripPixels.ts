import type { ModuleBox } from '../../chart/printed/chartGeometry.js'
import type { Point } from '../../math/point.js'
import type { LinearPicture, SheetPlane } from './sheetPlane.js'

/** The pixels of a strip: their places on the sheet, modules, their linear light, and where they lie in the picture, row by row. */
export interface StripPixels {
  readonly x: readonly number[]
  readonly y: readonly number[]
  readonly light: readonly number[]
  readonly column: readonly number[]
  readonly row: readonly number[]
  /** Share of them at white. */
  readonly clipped: number
}

/** A strip so near that it has more is read in its middle only. */
const MOST_PIXELS = 40_000
const CLIPPED_CODE = 254.5

/** The pixels whose middles lie in a box of the sheet, modules. */
export function stripPixels(picture: LinearPicture, plane: SheetPlane, wanted: ModuleBox): StripPixels {
  const { image, light } = picture
  const [left, right, top, bottom] = reach(plane, wanted, image)
  const share = Math.min(1, MOST_PIXELS / Math.max(1, (right - left) * (bottom - top)))
  const spare = ((1 - share) * (wanted.bottom - wanted.top)) / 2
  const box = { ...wanted, top: wanted.top + spare, bottom: wanted.bottom - spare }
  const pixels = {
    x: [] as number[],
    y: [] as number[],
    light: [] as number[],
    column: [] as number[],
    row: [] as number[],
  }
  let clipped = 0
  for (let row = top; row < bottom; row += 1)
    for (let column = left; column < right; column += 1) {
      const [x, y] = plane.toSheet(column + 0.5, row + 0.5) ?? [NaN, NaN]
      if (!(x >= box.left && x <= box.right && y >= box.top && y <= box.bottom)) continue
      const at = row * image.width + column
      if (image.data[at]! >= CLIPPED_CODE) clipped += 1
      pixels.x.push(x)
      pixels.y.push(y)
      pixels.light.push(light[at]!)
      pixels.column.push(column)
      pixels.row.push(row)
    }
  return { ...pixels, clipped: clipped / Math.max(1, pixels.x.length) }
}

/** Left, right, top and bottom of the whole pixels a box of the sheet may touch. */
function reach(
  plane: SheetPlane,
  { left, right, top, bottom }: ModuleBox,
  { width, height }: Readonly<{ width: number; height: number }>,
): [number, number, number, number] {
  const corners = [left, right].flatMap((x) => [top, bottom].map((y) => plane.toPicture(x, y)))
  const seen = corners.filter((corner): corner is Point => corner !== null)
  const [xs, ys] = [seen.map(([x]) => x), seen.map(([, y]) => y)]
  return [
    Math.max(0, Math.floor(Math.min(...xs)) - 2),
    Math.min(width, Math.ceil(Math.max(...xs)) + 2),
    Math.max(0, Math.floor(Math.min(...ys)) - 2),
    Math.min(height, Math.ceil(Math.max(...ys)) + 2),
  ]
}
