import { composeHomographies } from '../../math/homography.js'
import { frameCorners, plausibleFrame, type MatchedChart } from '../match/chartCandidate.js'
import { isBeyondDoubt, isEvenlyLit, lookAt } from '../match/chartLook.js'
import { chartStructure } from '../match/chartStructure.js'
import { sampleThrough } from '../match/matchChart.js'
import { FIELD } from '../printed/chartGeometry.js'
import { closerLook } from './closerLook.js'
import { fittedTemplate } from './fittedTemplate.js'
import { isInside, type FoundChart } from './foundChart.js'
import type { SearchPicture } from './searchPicture.js'
import type { SearchScale, SearchScales } from './searchScale.js'
import { FITTED_BELOW, fitSmall, pixelsPerModule } from './smallChart.js'

/** Below this many pixels to a module an outline is located but not to be trusted; at a coarse scale, where a closer look follows, the next one is tried. */
const LEAST_PIXELS_PER_MODULE = 1
const LEAST_AT_COARSE = 0.9
/** Least correlation of any part before the fit has put it right. */
const LEAST_AT_FIRST = 0.3
/** The noise on the chart, by what its fit leaves, may be the picture's in so many parts (of variance): where a dark ground is clipped at black, the picture shows too little of it. */
const MOST_LOCAL_NOISE = 3
/** Log-likelihood by which the best face must beat the second: odds of about 400 to 1. */
const FACE_EVIDENCE = 6

/**
 * A match carried to the still's own pixels and verified there: a small chart by the fit of the whole model, whose outline then counts, every
 * chart by the correlation of the whole and of its parts. Null where it is none, too small at this scale to be told, or its frame is cut by the picture's edge. `scales`: the picture's, where `at` may be a coarse one.
 */
export function verifyChart(
  at: SearchScale,
  picture: SearchPicture,
  match: MatchedChart,
  scales: SearchScales | null,
): FoundChart | null {
  const { image, sampleVariance: noiseVariance } = at
  const scale = 2 ** at.level
  let map = composeHomographies(Float64Array.of(scale, 0, 0, 0, scale, 0, 0, 0, 1), match.map)
  let face = match.face
  const leastPixels = (at.level === 0 ? LEAST_PIXELS_PER_MODULE : LEAST_AT_COARSE) * scale
  if (pixelsPerModule(map) < leastPixels) return null
  // A glance at the parts before the fit, which costs a hundred times more.
  const first = new Float64Array(match.template.count)
  sampleThrough(image, match.map, match.template, first)
  if (chartStructure(first, match.template, match.mask, noiseVariance).worst < LEAST_AT_FIRST) return null
  const blur = 4 * Math.PI * match.sigmaModules ** 2 + (scale / pixelsPerModule(map)) ** 2
  let evidence = ((FIELD.width * FIELD.height) / blur / 2) * Math.log(match.faceRatio)
  let blurPx: readonly [number, number] | undefined
  let ownVariance = noiseVariance
  if (pixelsPerModule(map) < FITTED_BELOW) {
    const fit = fitSmall(picture, map, face)
    if (fit === null) return null
    map = fit.map
    face = fit.face
    evidence = fit.evidence
    blurPx = fit.blurPx
    if (at.level === 0) ownVariance = ownNoise(fit.residualDn, noiseVariance)
    if (pixelsPerModule(map) < leastPixels) return null
  }
  const shrunk = composeHomographies(Float64Array.of(1 / scale, 0, 0, 0, 1 / scale, 0, 0, 0, 1), map)
  const fitted = blurPx && fittedTemplate(shrunk, at.level, face, blurPx)
  let look = lookAt(image, shrunk, face, match.mask, ownVariance, fitted)
  if (look === null || (at.level === 0 && !isBeyondDoubt(look))) return null
  if (scales !== null && at.level > 0) {
    // What passes for a chart at a coarse scale may show its own detail at a finer one.
    const closer = closerLook(picture, scales, map, face, match.mask, blurPx)
    if (closer === null || !isBeyondDoubt(closer)) return null
    look = closer
    map = closer.map
  }
  const corners = frameCorners(map)
  if (!plausibleFrame(corners) || !isInside(corners, picture)) return null
  return {
    map,
    corners,
    pixelsPerModule: pixelsPerModule(map),
    face,
    faceSure: evidence > FACE_EVIDENCE && isEvenlyLit(look),
    correlation: look.correlation,
    kept: look.kept,
    sigmaModules: look.sigmaModules,
    worstWindow: look.worstWindow,
    contrastDn: look.contrastDn,
  }
}

/** Noise variance of a bilinear sample on the chart, from its fit's residuals. */
function ownNoise(residualDn: number, noiseVariance: number): number {
  return Math.max(noiseVariance, Math.min((4 / 9) * residualDn ** 2, MOST_LOCAL_NOISE * noiseVariance))
}
