import { modulePx } from '../printed/chartGeometry.js'
import type { PixelRegion, Raster } from '../../still/raster.js'
import { frameCorners } from '../match/chartCandidate.js'
import { MODEL_PARAMETERS } from '../fit/chartParameters.js'
import { draftChart } from '../fit/draftChart.js'
import { faceSums } from '../fit/faceSums.js'
import { movedHomography, type Homography } from '../../math/homography.js'
import type { SearchPicture } from './searchPicture.js'

/** Charts under so many pixels to a module are verified by the fit of the whole model. */
export const FITTED_BELOW = 4
/** A true chart's fit is there by then: steps tried, refused ones among them. */
const FIT_STEPS = 40
/** A fit that carries a corner farther than this has run off. */
const MOST_FIT_MOVE_MODULES = 1.2

/** What the fit of a small chart tells; `blurPx`: across upright and across level edges, without the pixel's aperture; `residualDn`: what it leaves, code values. */
export interface FittedSmall {
  readonly map: Homography
  readonly face: number
  readonly evidence: number
  readonly blurPx: readonly [number, number]
  readonly residualDn: number
}

/** A face told by less than this is fitted against the second best: a fit with a wrong face bends the outline until the others look worse still. Simulated charts by day reach 60 to 400 with the right face, up to 46 with a wrong one. */
const CLEAR_EVIDENCE = 60
/** In more noise, code values, little evidence is the noise's doing. */
const CALM_DN = 6

/** The whole-model fit of a small chart, with the face that leaves the least residuals; null where it fails or runs off. */
export function fitSmall(picture: SearchPicture, start: Homography, firstFace: number): FittedSmall | null {
  const image = picture.lumaRegion(regionAround(start))
  const first = movedHomography(start, -image.left, -image.top)
  const still = (fit: FaceFit, evidence: number): FittedSmall => ({
    map: movedHomography(fit.map, image.left, image.top),
    face: fit.face,
    evidence,
    blurPx: fit.blurPx,
    residualDn: fit.residualDn,
  })
  let fit = fitFace(image, first, firstFace)
  if (fit !== null && fit.best !== fit.face) {
    fit = fitFace(image, first, fit.best)
    if (fit !== null && fit.best !== fit.face) return null
  }
  if (fit === null) return null
  if (fit.evidence >= CLEAR_EVIDENCE || fit.residualDn > CALM_DN) return still(fit, fit.evidence)
  const other = fitFace(image, first, fit.second)
  if (other === null) return still(fit, fit.evidence)
  const apart = (fit.pixels / 4) * Math.log(other.meanSquare / fit.meanSquare)
  return apart >= 0
    ? still(fit, Math.min(fit.evidence, apart))
    : still(other, other.best === other.face ? Math.min(other.evidence, -apart) : 0)
}

/** A fit with one face, in its own region, and which faces leave the least residuals at its outline. */
interface FaceFit {
  readonly map: Homography
  readonly face: number
  readonly best: number
  readonly second: number
  /** Log-likelihood by which the best beats the second. */
  readonly evidence: number
  readonly meanSquare: number
  readonly pixels: number
  readonly residualDn: number
  readonly blurPx: readonly [number, number]
}

function fitFace(image: Raster, first: Homography, face: number): FaceFit | null {
  const fitted = draftChart(image, first, { face, mostSteps: FIT_STEPS })
  if (!fitted.ok) return null
  const { chart, scene, descent, sums } = fitted.value
  const { map, corners, blur } = chart
  const moved = frameCorners(first).map((corner, k) =>
    Math.hypot(corner[0] - corners[k]![0], corner[1] - corners[k]![1]),
  )
  if (Math.max(...moved) > MOST_FIT_MOVE_MODULES * pixelsPerModule(first)) return null
  const ofFaces = faceSums(scene, face, descent.parameters)
  const ranked = ofFaces.map((sum, index) => ({ sum, index })).sort((a, b) => a.sum - b.sum)
  const pixels = scene.pixels.count
  const used = scene.weights.reduce((a, b) => a + b, 0)
  const [best, second] = [ranked[0]!, ranked[1]!]
  return {
    map,
    face,
    best: best.index,
    second: best.index === face ? second.index : best.index,
    evidence: (pixels / 4) * Math.log(second.sum / best.sum),
    meanSquare: ofFaces[face]! / pixels,
    pixels,
    residualDn: Math.sqrt(sums.sum / Math.max(1, used - MODEL_PARAMETERS)),
    blurPx: [blur.upright.sigmaPx, blur.level.sigmaPx],
  }
}

/** The sheet and a quarter of its size around it. */
export function regionAround(map: Homography): PixelRegion {
  const corners = frameCorners(map)
  const xs = corners.map((corner) => corner[0])
  const ys = corners.map((corner) => corner[1])
  const margin = 4 * pixelsPerModule(map) + 8
  const [left, top] = [Math.min(...xs) - margin, Math.min(...ys) - margin]
  return { left, top, width: Math.max(...xs) + margin - left, height: Math.max(...ys) + margin - top }
}

/** Pixels to a module at the chart's middle: the geometric mean of both axes. */
export function pixelsPerModule(map: Homography): number {
  return modulePx(map)
}
