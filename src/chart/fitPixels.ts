import { frameCorners } from './chartCandidate.js'
import { FIELD, LETTERED_EDGE } from './chartGeometry.js'
import { BLUR, MODEL_PARAMETERS, modelMap, type ChartModel } from './chartModel.js'
import type { GreyImage } from './greyImage.js'
import { areaScale, invertMap } from './planeMap.js'

/** Pixels farther than this many blurs from every edge carry levels only: one in sixteen is used. */
const EDGE_REACH = 5
/** Pixels used at most, an even share of those near an edge. */
const MOST_PIXELS = 6000
/** Residuals over this many robust standard deviations are taken for something lying over the chart. */
const OUTLIER = 5
/** Nothing under this share of the contrast counts as an outlier: the model's own faults stay in. */
const LEAST_OUTLIER = 0.15

/** The pixels the fit looks at: those near an edge, and one in sixteen of the even ground. Null where too few lie in the picture. */
export function fitPixels(
  image: GreyImage,
  model: ChartModel,
  parameters: Float64Array,
): { x: Float64Array; y: Float64Array; code: Float64Array; count: number } | null {
  model.set(parameters, false)
  const map = modelMap(parameters)
  const back = invertMap(map)
  if (back === null) return null
  const module = Math.sqrt(areaScale(map))
  const blurModules = parameters[BLUR]! / module
  // The paper's own edge stays out by a blur where the quiet zone has room for that.
  const margin = Math.min(0.9, Math.max(LETTERED_EDGE, 1.2 * blurModules))
  const outer = frameCorners(map)
  const spread = 1.3 * module + 2
  const xs = outer.map((corner) => corner[0])
  const ys = outer.map((corner) => corner[1])
  const left = Math.max(0, Math.floor(Math.min(...xs) - spread))
  const right = Math.min(image.width, Math.ceil(Math.max(...xs) + spread))
  const top = Math.max(0, Math.floor(Math.min(...ys) - spread))
  const bottom = Math.min(image.height, Math.ceil(Math.max(...ys) + spread))
  const near = EDGE_REACH * parameters[BLUR]! + 1.5
  const list: number[] = []
  for (let j = top; j < bottom; j += 1)
    for (let i = left; i < right; i += 1) {
      const [px, py] = [i + 0.5, j + 0.5]
      const w = back[6]! * px + back[7]! * py + back[8]!
      const u = (back[0]! * px + back[1]! * py + back[2]!) / w
      const v = (back[3]! * px + back[4]! * py + back[5]!) / w
      if (u < margin || v < margin || u > FIELD.width - margin || v > FIELD.height - margin) continue
      if (module > 6 && ((i & 3) !== 0 || (j & 3) !== 0) && model.edgeDistance(px, py) > near) continue
      list.push(j * image.width + i)
    }
  if (list.length < 3 * MODEL_PARAMETERS) return null
  const share = Math.min(1, MOST_PIXELS / list.length)
  const kept = list.filter((_, index) => Math.floor((index + 1) * share) > Math.floor(index * share))
  return {
    count: kept.length,
    x: Float64Array.from(kept, (at) => (at % image.width) + 0.5),
    y: Float64Array.from(kept, (at) => Math.floor(at / image.width) + 0.5),
    code: Float64Array.from(kept, (at) => image.data[at]!),
  }
}

/** Weight 1 for residuals that belong to the chart, 0 for what lies over it: outliers by the median, but nothing small against the contrast. */
export function weighResiduals(residuals: Float64Array, weights: Float64Array, contrast: number): void {
  const sorted = residuals.map(Math.abs).sort()
  const limit = Math.max(OUTLIER * 1.4826 * sorted[sorted.length >> 1]!, LEAST_OUTLIER * contrast)
  for (let at = 0; at < weights.length; at += 1) weights[at] = Math.abs(residuals[at]!) <= limit ? 1 : 0
}

/** Correlation of the kept pixels' code values with the model's. */
export function modelCorrelation(code: Float64Array, residuals: Float64Array, weights: Float64Array): number {
  let [n, sum, squares, rest] = [0, 0, 0, 0]
  for (let at = 0; at < code.length; at += 1) {
    if (weights[at] === 0) continue
    n += 1
    sum += code[at]!
    squares += code[at]! ** 2
    rest += residuals[at]! ** 2
  }
  const total = squares - sum ** 2 / n
  return total > 0 ? Math.sqrt(Math.max(0, 1 - rest / total)) : 0
}
