import type { PixelRegion } from '../still/raster.js'
import { frameCorners } from './chartCandidate.js'
import { fitChart } from './fitChart.js'
import { areaScale, movedMap, type PlaneMap } from './planeMap.js'
import type { SearchPicture } from './searchPicture.js'

/** Charts under so many pixels to a module are verified by the fit of the whole model. */
export const FITTED_BELOW = 4
/** A true chart's fit is there by then. */
const FIT_STEPS = 20
/** A fit that carries a corner farther than this has run off. */
const MOST_FIT_MOVE_MODULES = 1.2

/** The whole-model fit of a small chart, with the face that leaves the least residuals; null where it fails or runs off. */
export function fitSmall(
  picture: SearchPicture,
  start: PlaneMap,
  firstFace: number,
): { map: PlaneMap; face: number; evidence: number } | null {
  const image = picture.lumaRegion(regionAround(start))
  const first = movedMap(start, -image.left, -image.top)
  let face = firstFace
  for (let round = 0; round < 2; round += 1) {
    const fit = fitChart(image, first, { face, mostSteps: FIT_STEPS })
    if (!fit.ok) return null
    const module = pixelsPerModule(start)
    const moved = frameCorners(first).map((corner, k) =>
      Math.hypot(corner[0] - fit.value.corners[k]![0], corner[1] - fit.value.corners[k]![1]),
    )
    if (Math.max(...moved) > MOST_FIT_MOVE_MODULES * module) return null
    const ranked = fit.value.faceSums.map((sum, index) => ({ sum, index })).sort((a, b) => a.sum - b.sum)
    const evidence = (fit.value.pixels / 4) * Math.log(ranked[1]!.sum / ranked[0]!.sum)
    if (ranked[0]!.index === face)
      return { map: movedMap(fit.value.map, image.left, image.top), face, evidence }
    face = ranked[0]!.index
  }
  return null
}

/** The sheet and a quarter of its size around it. */
export function regionAround(map: PlaneMap): PixelRegion {
  const corners = frameCorners(map)
  const xs = corners.map((corner) => corner[0])
  const ys = corners.map((corner) => corner[1])
  const margin = 4 * pixelsPerModule(map) + 8
  const [left, top] = [Math.min(...xs) - margin, Math.min(...ys) - margin]
  return { left, top, width: Math.max(...xs) + margin - left, height: Math.max(...ys) + margin - top }
}

/** Pixels to a module at the chart's middle: the geometric mean of both axes. */
export function pixelsPerModule(map: PlaneMap): number {
  return Math.sqrt(areaScale(map))
}
