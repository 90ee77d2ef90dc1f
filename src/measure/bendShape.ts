import { FIELD, FRAME } from '../chart/chartGeometry.js'
import { mapPoint, type PlaneMap } from '../chart/planeMap.js'
import type { Point } from '../math/point.js'

/** Terms of a plane's own change of view, and of what no plane does. */
export const PLANE_TERMS = 8
export const BEND_TERMS = 8

const MIDDLE: Point = [FIELD.width / 2, FIELD.height / 2]
/** Half the frame's width: the terms are written in it, so that each is as large as its factor at the frame's sides. */
export const REACH_MODULES = (FRAME.right - FRAME.left) / 2

/**
 * Displacements of a place on the chart, in units of the frame's half width, per unit of each term: first what a plane seen a little otherwise
 * does (eight terms), then squares and cubes, which curled paper and a lens with bent lines make and no plane does. Writes x and y in turn.
 */
export function writeTerms(u: number, v: number, out: Float64Array): void {
  const terms: readonly number[] = [1, 0, u, 0, v, 0, 0, 1, 0, u, 0, v, u * u, u * v, u * v, v * v]
  out.set(terms)
  out.set([u * u, 0, 0, u * u, v * v, 0, 0, v * v], 16)
  out.set([u ** 3, 0, 0, u * u * v, u * v * v, 0, 0, v ** 3], 24)
}

/** A pixel's place on the chart, in units of the frame's half width from its middle. */
export function placeOf(back: PlaneMap, x: number, y: number): Point {
  const [u, v] = mapPoint(back, x, y)
  return [(u - MIDDLE[0]) / REACH_MODULES, (v - MIDDLE[1]) / REACH_MODULES]
}

/** Where a map sends such a place. */
export function pixelOf(map: PlaneMap, u: number, v: number): Point {
  return mapPoint(map, MIDDLE[0] + REACH_MODULES * u, MIDDLE[1] + REACH_MODULES * v)
}
