import { viewPlaces } from '../../chart/fit/fitPixels.js'
import type { GreyImage } from '../../chart/match/greyImage.js'
import { FIELD } from '../../chart/printed/chartGeometry.js'
import type { FlatView } from '../../lens/flatView.js'
import { inverseHomography, mapPoint, type Homography } from '../../math/homography.js'
import type { Point } from '../../math/point.js'

/** A picture in code values and, pixel by pixel, in linear light. */
export interface LinearPicture {
  readonly image: GreyImage
  readonly light: Float32Array
}

/** Where places of a picture (px) lie on the strips' sheet (modules), and back; null where the lens has no image. */
export interface SheetPlane {
  toSheet(x: number, y: number): Point | null
  toPicture(x: number, y: number): Point | null
}

/** How the sheet lies off its nominal place: moved by modules, turned clockwise. */
export interface SheetOffset {
  readonly x: number
  readonly y: number
  readonly turnRad: number
}

/** The plane that `map` lays into a still, or into the flat view of one, for a part of the still from `origin` on; null where there is no way back. */
export function sheetPlane(
  map: Homography,
  view: FlatView | null,
  { left, top }: Readonly<{ left: number; top: number }> = { left: 0, top: 0 },
): SheetPlane | null {
  const back = inverseHomography(map)
  const places = viewPlaces(view)
  if (back === null || (view !== null && places === null)) return null
  return {
    toSheet(x, y) {
      const flat = places === null ? ([x + left, y + top] as const) : places.toFlat(x + left, y + top)
      return flat === null ? null : mapPoint(back, flat[0], flat[1])
    },
    toPicture(x, y) {
      const flat = mapPoint(map, x, y)
      const place = places === null ? flat : places.toStill(flat[0], flat[1])
      return place === null ? null : [place[0] - left, place[1] - top]
    },
  }
}

/** The plane of the sheet as it was fixed: places count from the sheet itself. */
export function offsetPlane(plane: SheetPlane, { x: dx, y: dy, turnRad }: SheetOffset): SheetPlane {
  const [cos, sin] = [Math.cos(turnRad), Math.sin(turnRad)]
  const [middleX, middleY] = [FIELD.width / 2, FIELD.height / 2]
  return {
    toSheet(x, y) {
      const place = plane.toSheet(x, y)
      if (place === null) return null
      const [u, v] = [place[0] - dx - middleX, place[1] - dy - middleY]
      return [middleX + u * cos + v * sin, middleY + v * cos - u * sin]
    },
    toPicture(x, y) {
      const [u, v] = [x - middleX, y - middleY]
      return plane.toPicture(middleX + dx + u * cos - v * sin, middleY + dy + u * sin + v * cos)
    },
  }
}

/** Px to a module along and across the sheet at a place of it, and whether its length lies along the picture's rows rather than its columns. */
export function pxPerModule(
  plane: SheetPlane,
  x: number,
  y: number,
): { along: number; across: number; isLevel: boolean } | null {
  const half = 0.25
  const [a, b] = [plane.toPicture(x - half, y), plane.toPicture(x + half, y)]
  const [c, d] = [plane.toPicture(x, y - half), plane.toPicture(x, y + half)]
  if (a === null || b === null || c === null || d === null) return null
  return {
    along: Math.hypot(b[0] - a[0], b[1] - a[1]) / (2 * half),
    across: Math.hypot(d[0] - c[0], d[1] - c[1]) / (2 * half),
    isLevel: Math.abs(b[0] - a[0]) >= Math.abs(b[1] - a[1]),
  }
}
