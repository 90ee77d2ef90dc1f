import { FRAME } from '../../chart/printed/chartGeometry.js'
import { boxTo, inverseHomography, type Homography } from '../../math/homography.js'
import { flatPlaces, type FlatPlaces } from '../../lens/flatView.js'
import type { CameraLens } from '../../lens/cameraLens.js'
import { ResidualSums } from '../../math/normalEquations.js'
import { choleskyInverse } from '../../math/cholesky.js'
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
  const solved = new Float64Array(BEND_TERMS)
  for (const { u, v, pull } of framePlaces()) {
    const seen = through.toStill(...pixelOf(plane, u, v))
    const there = seen === null || chart.places === null ? seen : chart.places.toFlat(seen[0], seen[1])
    if (there === null) return null
    const [x, y] = placeOf(back, there[0], there[1])
    for (let k = 0; k < BEND_TERMS; k += 1) solved[k]! += pull[2 * k]! * (x - u) + pull[2 * k + 1]! * (y - v)
  }
  return solved
}

/** A place of the frame, and what each bend's term gets of a displacement there, x and y in turn, by least squares of all terms over all places. */
interface FramePlace {
  readonly u: number
  readonly v: number
  readonly pull: Float64Array
}

const framePlaces = ((): (() => readonly FramePlace[]) => {
  let drawn: readonly FramePlace[] | undefined
  return () => (drawn ??= drawPlaces())
})()

function drawPlaces(): FramePlace[] {
  const n = PLANE_TERMS + BEND_TERMS
  const normal = { matrix: new Float64Array(n * n), right: new Float64Array(n) }
  const sums = new ResidualSums(normal)
  const places = Array.from({ length: COLUMNS * ROWS }, (_, at) => {
    const u = (2 * (at % COLUMNS)) / (COLUMNS - 1) - 1
    const v = HALF_HEIGHT * ((2 * Math.floor(at / COLUMNS)) / (ROWS - 1) - 1)
    const terms = new Float64Array(2 * n)
    writeTerms(u, v, terms)
    for (const axis of [0, 1]) {
      sums.row.set(terms.filter((_, k) => k % 2 === axis))
      sums.add(0)
    }
    return { u, v, terms }
  })
  sums.end()
  const { matrix } = normal
  for (let i = 0; i < n; i += 1) for (let j = i + 1; j < n; j += 1) matrix[i * n + j] = matrix[j * n + i]!
  const inverse = choleskyInverse(matrix, n)!
  return places.map(({ u, v, terms }) => {
    const pull = new Float64Array(2 * BEND_TERMS)
    for (let k = 0; k < BEND_TERMS; k += 1)
      for (let i = 0; i < n; i += 1) {
        const share = inverse[(PLANE_TERMS + k) * n + i]!
        pull[2 * k]! += share * terms[2 * i]!
        pull[2 * k + 1]! += share * terms[2 * i + 1]!
      }
    return { u, v, pull }
  })
}
