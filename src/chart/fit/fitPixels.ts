import { frameCorners } from '../match/chartCandidate.js'
import { FIELD, LETTERED_EDGE, modulePx } from '../printed/chartGeometry.js'
import { MODEL_PARAMETERS, meanBlur, modelMap } from './chartParameters.js'
import { markEdges } from './edgeBand.js'
import type { GreyImage } from '../match/greyImage.js'
import { inverseHomography, type Homography } from '../../math/homography.js'
import { flatPlaces, type FlatPlaces, type FlatView } from '../../lens/flatView.js'
import { clampRegion, type PixelRegion } from '../../still/raster.js'

/** Pixels farther than this many blurs (and a little) from every edge say nothing of where it lies or how soft it is; a few of them carry the levels. */
const EDGE_REACH = 2.8
const EDGE_MORE_PX = 0.7
/** From these sizes on, px per module, one in four and one in sixteen pixels of the even ground is used, and a quarter of them at each doubling of the second. */
const SOME_FROM = 4
const FEW_FROM = 6
/** Modules of edges on a chart. */
const EDGE_MODULES = 95
/** Pixels near edges that are used, about, at most. */
const MOST_PIXELS = 6000
/** Side of the tiles that a near chart's pixels are thinned by, so that neighbours stay together, px. */
const TILE_BITS = 3

/** Pixels as the fit looks at them, row by row: places (px) and code values. */
export interface FitPixels {
  /** Where the model is asked, in the flat view where the still is seen through its lens. */
  readonly x: Float64Array
  readonly y: Float64Array
  /** Where the pixel lies in the still. */
  readonly column: Float64Array
  readonly row: Float64Array
  readonly code: Float64Array
  readonly count: number
}

/** The ways between a still and the flat view a chart is fitted in; null where it is fitted as it lies. */
export function viewPlaces(view: FlatView | null): FlatPlaces | null {
  return view === null ? null : flatPlaces(view)
}

/** How many pixels are wanted: some `near` of those near edges, neighbours together; of these and the ground's an even `sample`. */
interface WantedPixels {
  readonly near?: number
  readonly sample?: number
}

/** The pixels near an edge, and a few of the even ground, of a face's chart in the flat view `places` or as it lies. Null where too few lie in the picture. */
export function fitPixels(
  image: GreyImage,
  face: number,
  parameters: Float64Array,
  places: FlatPlaces | null,
  { near: most = MOST_PIXELS, sample = Infinity }: WantedPixels = {},
): FitPixels | null {
  const map = modelMap(parameters)
  const module = modulePx(map)
  const blur = meanBlur(parameters)
  const near = EDGE_REACH * blur + EDGE_MORE_PX
  const box = boxAround(image, map, module, places)
  const back = inverseHomography(map)
  if (box === null || back === null) return null
  const mask = new Uint8Array(box.width * box.height)
  markEdges(mask, box, face, map, places, near)
  const all = chosenPixels(mask, box, groundStep(module), (2 * EDGE_MODULES * module * near) / most)
  const chosen = oneInSo(all, Math.ceil(all.length / sample))
  // The paper's own edge stays out by a blur where the quiet zone has room for that.
  const margin = Math.min(0.9, Math.max(LETTERED_EDGE, (1.2 * blur) / module))
  const list = (): Float64Array => new Float64Array(chosen.length)
  const [x, y, column, row, code] = [list(), list(), list(), list(), list()]
  let count = 0
  for (const at of chosen) {
    const i = box.left + (at % box.width)
    const j = box.top + Math.floor(at / box.width)
    const flat = places === null ? null : places.toFlat(i + 0.5, j + 0.5)
    if (places !== null && flat === null) continue
    const px = flat === null ? i + 0.5 : flat[0]
    const py = flat === null ? j + 0.5 : flat[1]
    const w = back[6]! * px + back[7]! * py + back[8]!
    const u = (back[0]! * px + back[1]! * py + back[2]!) / w
    const v = (back[3]! * px + back[4]! * py + back[5]!) / w
    if (!(u >= margin && v >= margin && u <= FIELD.width - margin && v <= FIELD.height - margin)) continue
    x[count] = px
    y[count] = py
    column[count] = i + 0.5
    row[count] = j + 0.5
    code[count] = image.data[j * image.width + i]!
    count += 1
  }
  if (count < 3 * MODEL_PARAMETERS) return null
  const of = (values: Float64Array): Float64Array => values.subarray(0, count)
  return { x: of(x), y: of(y), column: of(column), row: of(row), code: of(code), count }
}

/** The whole pixels around the chart; null where none lies in the picture. */
function boxAround(
  { width, height }: GreyImage,
  map: Homography,
  module: number,
  places: FlatPlaces | null,
): PixelRegion | null {
  const outer = frameCorners(map).map(([x, y]) => places?.toStill(x, y) ?? ([x, y] as const))
  const spread = 1.3 * module + 2
  const xs = outer.map((corner) => corner[0])
  const ys = outer.map((corner) => corner[1])
  const [left, top] = [Math.min(...xs) - spread, Math.min(...ys) - spread]
  const [right, bottom] = [Math.max(...xs) + spread, Math.max(...ys) + spread]
  if (!(right > 0 && bottom > 0 && left < width && top < height)) return null
  return clampRegion({ left, top, width: right - left, height: bottom - top }, width, height)
}

function oneInSo(all: Int32Array, many: number): Int32Array {
  if (many <= 1) return all
  const some = new Int32Array(Math.ceil(all.length / many))
  for (let at = 0; at < some.length; at += 1) some[at] = all[at * many]!
  return some
}

/** One pixel of the even ground is used in so many, each way: a power of two. */
function groundStep(module: number): number {
  if (module <= FEW_FROM) return module > SOME_FROM ? 2 : 1
  return 4 * 2 ** Math.ceil(Math.log2(module / FEW_FROM) - 1)
}

/** The marked pixels of one in `share` tiles, in every row and column of tiles alike, and the ground's, row by row. */
function chosenPixels(
  mask: Uint8Array,
  { left, top, width, height }: PixelRegion,
  step: number,
  share: number,
): Int32Array {
  const n = Math.max(1, Math.round(share))
  const [a, b] = [3, 5, 7, 11, 13].filter((one) => n % one !== 0) as [number, number]
  const chosen = new Int32Array(width * height)
  let count = 0
  for (let row = 0, at = 0; row < height; row += 1) {
    const down = b * ((top + row) >> TILE_BITS)
    const isGround = (top + row) % step === 0
    for (let column = 0; column < width; column += 1, at += 1) {
      const isNear = mask[at] === 1 && (a * ((left + column) >> TILE_BITS) + down) % n === 0
      if (isNear || (isGround && (left + column) % step === 0)) chosen[count++] = at
    }
  }
  return chosen.subarray(0, count)
}
