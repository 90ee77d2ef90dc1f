import { frameCorners } from '../match/chartCandidate.js'
import { FIELD, LETTERED_EDGE, modulePx } from '../printed/chartGeometry.js'
import type { ChartModel } from './chartModel.js'
import { MODEL_PARAMETERS, meanBlur, modelMap } from './chartParameters.js'
import type { GreyImage } from '../match/greyImage.js'
import { inverseHomography, mapPoint } from '../../math/homography.js'
import { flatPlaces, type FlatPlaces, type FlatView } from '../../lens/flatView.js'

/** Pixels farther than this many blurs (and a little) from every edge say nothing of where it lies or how soft it is; a few of them carry the levels. */
const EDGE_REACH = 2.8
const EDGE_MORE_PX = 0.7
/** From these sizes on, px per module, one in four and one in sixteen pixels of the even ground is used. */
const SOME_FROM = 4
const FEW_FROM = 6
/** Pixels the first steps look at, and all of them at most. */
const FIRST_PIXELS = 1100
const MOST_PIXELS = 16_000

/** Pixels as the fit looks at them: places (px) and code values. The first `first` of them are an even sample of all. */
export interface FitPixels {
  /** Where the model is asked, in the flat view where the still is seen through its lens. */
  readonly x: Float64Array
  readonly y: Float64Array
  /** Where the pixel lies in the still. */
  readonly column: Float64Array
  readonly row: Float64Array
  readonly code: Float64Array
  readonly count: number
  readonly first: number
}

/** The ways between a still and the flat view a chart is fitted in; null where it is fitted as it lies. */
export function viewPlaces(view: FlatView | null): FlatPlaces | null {
  return view === null ? null : flatPlaces(view)
}

/** The pixels near an edge, and a few of the even ground, of a chart in the flat view `places` or as it lies. Null where too few lie in the picture. */
export function fitPixels(
  image: GreyImage,
  model: ChartModel,
  parameters: Float64Array,
  places: FlatPlaces | null = null,
): FitPixels | null {
  model.set(parameters, false)
  const map = modelMap(parameters)
  const back = inverseHomography(map)
  if (back === null) return null
  const module = modulePx(map)
  const blur = meanBlur(parameters)
  // The paper's own edge stays out by a blur where the quiet zone has room for that.
  const margin = Math.min(0.9, Math.max(LETTERED_EDGE, (1.2 * blur) / module))
  const outer = frameCorners(map).map(([x, y]) => places?.toStill(x, y) ?? ([x, y] as const))
  const spread = 1.3 * module + 2
  const xs = outer.map((corner) => corner[0])
  const ys = outer.map((corner) => corner[1])
  const left = Math.max(0, Math.floor(Math.min(...xs) - spread))
  const right = Math.min(image.width, Math.ceil(Math.max(...xs) + spread))
  const top = Math.max(0, Math.floor(Math.min(...ys) - spread))
  const bottom = Math.min(image.height, Math.ceil(Math.max(...ys) + spread))
  const near = EDGE_REACH * blur + EDGE_MORE_PX
  const groundMask = module > FEW_FROM ? 3 : module > SOME_FROM ? 1 : 0
  // A near chart has some 95 modules of edges: one row and one column in so many gives pixels enough.
  const stride = Math.max(1, Math.floor((4 * 95 * module * near) / MOST_PIXELS))
  const list: number[] = []
  for (let j = top; j < bottom; j += 1)
    for (let i = left; i < right; i += 1) {
      if (stride > 2 && i % stride !== 0 && j % stride !== 0) continue
      const flat = places?.toFlat(i + 0.5, j + 0.5)
      if (flat === null) continue
      const px = flat === undefined ? i + 0.5 : flat[0]
      const py = flat === undefined ? j + 0.5 : flat[1]
      const [u, v] = mapPoint(back, px, py)
      if (u < margin || v < margin || u > FIELD.width - margin || v > FIELD.height - margin) continue
      if (((i & groundMask) !== 0 || (j & groundMask) !== 0) && model.edgeDistance(px, py) > near) continue
      list.push(j * image.width + i)
    }
  if (list.length < 3 * MODEL_PARAMETERS) return null
  const share = Math.min(1, MOST_PIXELS / list.length)
  const kept = list.filter((_, index) => Math.floor((index + 1) * share) > Math.floor(index * share))
  const every = Math.ceil(kept.length / FIRST_PIXELS)
  const ordered = kept.filter((_, index) => index % every === 0)
  const first = ordered.length
  if (every > 1) ordered.push(...kept.filter((_, index) => index % every !== 0))
  const column = Float64Array.from(ordered, (at) => (at % image.width) + 0.5)
  const row = Float64Array.from(ordered, (at) => Math.floor(at / image.width) + 0.5)
  const [x, y] = places === null ? [column, row] : [new Float64Array(column), new Float64Array(row)]
  if (places !== null)
    for (let at = 0; at < ordered.length; at += 1) {
      const flat = places.toFlat(column[at]!, row[at]!)!
      x[at] = flat[0]
      y[at] = flat[1]
    }
  const code = Float64Array.from(ordered, (at) => image.data[at]!)
  return { count: ordered.length, first, x, y, column, row, code }
}
