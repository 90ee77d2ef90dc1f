import { FIELD, FRAME } from '../../chart/printed/chartGeometry.js'
import { mapPoint, type Homography } from '../../math/homography.js'
import type { Point } from '../../math/point.js'

/** Terms of a plane's own change of view, and of what no plane does. */
export const PLANE_TERMS = 8
export const BEND_TERMS = 8

export const MIDDLE: Point = [FIELD.width / 2, FIELD.height / 2]
/** Half the frame's width: the terms are written in it, so that each is as large as its factor at the frame's sides. */
export const REACH_MODULES = (FRAME.right - FRAME.left) / 2

/**
 * Displacements of a place on the chart, in units of the frame's half width, per unit of each term: first what a plane seen a little otherwise
 * does (eight terms), then squares and cubes, which curled paper and a lens with bent lines make and no plane does. Writes x and y in turn.
 */
export function writeTerms(u: number, v: number, out: Float64Array): void {
  out.fill(0)
  const uu = u * u
  const uv = u * v
  const vv = v * v
  out[0] = out[7] = 1
  out[2] = out[9] = u
  out[4] = out[11] = v
  out[12] = out[16] = out[19] = uu
  out[13] = out[14] = uv
  out[15] = out[20] = out[23] = vv
  out[24] = uu * u
  out[27] = uu * v
  out[28] = uv * v
  out[31] = vv * v
}

/** A pixel's place on the chart, in units of the frame's half width from its middle. */
export function placeOf(back: Homography, x: number, y: number): Point {
  const [u, v] = mapPoint(back, x, y)
  return [(u - MIDDLE[0]) / REACH_MODULES, (v - MIDDLE[1]) / REACH_MODULES]
}

/** Such a place in modules of the sheet. */
export function moduleOf(u: number, v: number): Point {
  return [MIDDLE[0] + REACH_MODULES * u, MIDDLE[1] + REACH_MODULES * v]
}

/** Where a map sends such a place. */
export function pixelOf(map: Homography, u: number, v: number): Point {
  return mapPoint(map, MIDDLE[0] + REACH_MODULES * u, MIDDLE[1] + REACH_MODULES * v)
}
