import type { PixelRegion } from '../still/raster.js'
import { frameCorners, plausibleFrame, type MatchedChart } from './chartCandidate.js'
import { FIELD } from './chartGeometry.js'
import { chartStructure } from './chartStructure.js'
import type { ChartTemplate } from './chartTemplate.js'
import { fitChart } from './fitChart.js'
import type { FoundChart } from './foundChart.js'
import { agreement, sampleThrough } from './matchChart.js'
import { composeMaps, mapJacobian, movedMap, type PlaneMap } from './planeMap.js'
import type { SearchPicture } from './searchPicture.js'
import type { SearchScale } from './searchScale.js'
import { searchTemplates } from './searchTemplates.js'

/** Below this many pixels to a module an outline is located but not to be trusted; at a coarse scale the next one is tried. */
const LEAST_PIXELS_PER_MODULE = 1
/** Charts under so many pixels to a module are verified by the fit of the whole model. */
const FITTED_BELOW = 4
/** Least correlation of any part before the fit has put it right. */
const LEAST_AT_FIRST = 0.3
/** A true chart's fit is there by then. */
const FIT_STEPS = 20
/** A fit that carries a corner farther than this has run off. */
const MOST_FIT_MOVE_MODULES = 1.2
/** Log-likelihood by which the best face must beat the second: odds of about 400 to 1. */
const FACE_EVIDENCE = 6

/**
 * A match carried to the still's own pixels and verified there: a small chart by the fit of the whole model, whose outline then counts, every
 * chart by the correlation of the whole and of its parts. Null where it is none, or too small at this scale to be told.
 */
export function verifyChart(
  at: SearchScale,
  picture: SearchPicture,
  match: MatchedChart,
  least: number,
): FoundChart | null {
  const { image, sampleVariance: noiseVariance } = at
  const scale = 2 ** at.level
  let map = composeMaps(Float64Array.of(scale, 0, 0, 0, scale, 0, 0, 0, 1), match.map)
  let face = match.face
  if (pixelsPerModule(map) < LEAST_PIXELS_PER_MODULE * scale) return null
  // A glance at the parts before the fit, which costs a hundred times more.
  const first = new Float64Array(match.template.count)
  sampleThrough(image, match.map, match.template, first)
  if (chartStructure(first, match.template, match.mask, noiseVariance).worst < LEAST_AT_FIRST) return null
  const blur = 4 * Math.PI * match.sigmaModules ** 2 + (scale / pixelsPerModule(map)) ** 2
  let evidence = ((FIELD.width * FIELD.height) / blur / 2) * Math.log(match.faceRatio)
  if (pixelsPerModule(map) < FITTED_BELOW) {
    const fit = fitSmall(picture, map, face)
    if (fit === null) return null
    map = fit.map
    face = fit.face
    evidence = fit.evidence
    if (pixelsPerModule(map) < LEAST_PIXELS_PER_MODULE * scale) return null
  }
  const shrunk = composeMaps(Float64Array.of(1 / scale, 0, 0, 0, 1 / scale, 0, 0, 0, 1), map)
  const samples = new Float64Array(match.template.count)
  sampleThrough(image, shrunk, match.template, samples)
  let best: { template: ChartTemplate; sigma: number; correlation: number; kept: number } | null = null
  for (const set of searchTemplates().sets) {
    const template = set.face(face)
    const fits = agreement(samples, template, match.mask, noiseVariance)
    if (best === null || fits.correlation > best.correlation)
      best = { template, sigma: set.sigmaModules, ...fits }
  }
  if (best!.correlation < least || !plausibleFrame(frameCorners(map))) return null
  const structure = chartStructure(samples, best!.template, match.mask, noiseVariance)
  if (!structure.holds) return null
  return {
    map,
    corners: frameCorners(map),
    pixelsPerModule: pixelsPerModule(map),
    face,
    faceSure: evidence > FACE_EVIDENCE,
    correlation: best!.correlation,
    kept: best!.kept,
    sigmaModules: best!.sigma,
    worstWindow: structure.worst,
  }
}

/** The whole-model fit of a small chart, with the face that leaves the least residuals; null where it fails or runs off. */
function fitSmall(
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
function regionAround(map: PlaneMap): PixelRegion {
  const corners = frameCorners(map)
  const xs = corners.map((corner) => corner[0])
  const ys = corners.map((corner) => corner[1])
  const margin = 4 * pixelsPerModule(map) + 8
  const [left, top] = [Math.min(...xs) - margin, Math.min(...ys) - margin]
  return { left, top, width: Math.max(...xs) + margin - left, height: Math.max(...ys) + margin - top }
}

function pixelsPerModule(map: PlaneMap): number {
  const [a, b, c, d] = mapJacobian(map, FIELD.width / 2, FIELD.height / 2)
  return Math.sqrt(Math.abs(a * d - b * c))
}
