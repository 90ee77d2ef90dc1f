import { FRAME } from '../../chart/printed/chartGeometry.js'
import { boxTo, inverseHomography, type Homography } from '../../math/homography.js'
import { flatPlaces, type FlatPlaces } from '../../lens/flatView.js'
import type { CameraLens } from '../../lens/cameraLens.js'
import { choleskySolve } from '../../math/cholesky.js'
import type { Point, Quad } from '../../math/point.js'
import { BEND_TERMS, pixelOf, PLANE_TERMS, placeOf, writeTerms } from './bendShape.js'

/** Places of the frame a bend is read at, along its width and its height. */
const COLUMNS = 7
const ROWS = 5
const HALF_HEIGHT = (FRAME.bottom - FRAME.top) / (FRAME.right - FRAME.left)

/** A chart fitted as a plane: its map and corners, px of the view `places` leads to, null for the still itself. */
export interface PlaneChart {
  readonly map: Homography
  readonly corners: Quad
  readonly places: FlatPlaces | null
}

/**
 * The terms (squares and cubes, as `chartBend` reads them) by which a flat chart seen through `lens` leaves the plane it was fitted with. Null where the lens has
 * no image of it. `middle` is the chart's in the still, px.
 */
export function bendThroughLens(chart: PlaneChart, lens: CameraLens, middle: Point): Float64Array | null {
  const through = flatPlaces({ lens, middle })
  const back = inverseHomography(chart.map)
  if (through === null || back === null) return null
  const flat: Point[] = []
  for (const [x, y] of chart.corners) {
    const seen = chart.places === null ? ([x, y] as const) : chart.places.toStill(x, y)
    const place = seen === null ? null : through.toFlat(seen[0], seen[1])
    if (place === null) return null
    flat.push(place)
  }
  const plane = boxTo(FRAME, flat as unknown as Quad)
  const n = PLANE_TERMS + BEND_TERMS
  const matrix = new Float64Array(n * n)
  const right = new Float64Array(n)
  const terms = new Float64Array(2 * n)
  for (let row = 0; row < ROWS; row += 1)
    for (let column = 0; column < COLUMNS; column += 1) {
      const u = (2 * column) / (COLUMNS - 1) - 1
      const v = HALF_HEIGHT * ((2 * row) / (ROWS - 1) - 1)
      const seen = through.toStill(...pixelOf(plane, u, v))
      const there = seen === null || chart.places === null ? seen : chart.places.toFlat(seen[0], seen[1])
      if (there === null) return null
      const place = placeOf(back, there[0], there[1])
      writeTerms(u, v, terms)
      for (let i = 0; i < n; i += 1) {
        const [a, b] = [terms[2 * i]!, terms[2 * i + 1]!]
        right[i]! += a * (place[0] - u) + b * (place[1] - v)
        for (let j = 0; j < n; j += 1) matrix[i * n + j]! += a * terms[2 * j]! + b * terms[2 * j + 1]!
      }
    }
  const solved = new Float64Array(n)
  return choleskySolve(matrix, right, solved) ? solved.slice(PLANE_TERMS) : null
}
