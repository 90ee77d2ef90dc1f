import type { Quad } from '../math/point.js'
import { followCandidate, type MatchedChart } from './chartCandidate.js'
import { FRAME } from './chartGeometry.js'
import type { ChartTemplate, TemplateSet } from './chartTemplate.js'
import { darkPieceOutlines } from './darkPieces.js'
import { darkRuns } from './darkRuns.js'
import { smoothImage, type GreyImage } from './greyImage.js'
import { agreement, sampleThrough } from './matchChart.js'
import { outlineQuad } from './outlineQuad.js'
import { boxTo, type PlaneMap } from './planeMap.js'
import type { SearchScale } from './searchScale.js'

/**
 * How a picture is thresholded: half the window, px of the scale at hand (3 to 6 modules of the charts looked for there), and how far below its
 * mean dark begins, as a share of the noise where the picture was smoothed and where it was not, and at least, code values.
 */
export interface Threshold {
  readonly radius: number
  readonly noisyShare: number
  readonly calmShare: number
  readonly leastDn: number
}

/** The first finds nearly all charts; the second is tried where nothing was found. */
export const THRESHOLDS: readonly Threshold[] = [
  { radius: 4, noisyShare: 0.2, calmShare: 1, leastDn: 2 },
  { radius: 5, noisyShare: 0, calmShare: 0, leastDn: 0 },
]
/** Bounding boxes looked at, pixels of the scale at hand. */
const PIECE_LIMITS = { leastSide: 7, mostSide: 110 }
/** Least correlation of an outline with the widest template, before any refinement; and of its mirror image to be told as one. */
const FIRST_CORRELATION = 0.4
const LEAST_MIRRORED = 0.6
/** Over this noise the picture is smoothed before it is thresholded, code values. */
const MOST_NOISE_DN = 3.5

/**
 * Charts among the dark pieces of one scale, not verified yet (`glance`: a template of few samples for the first look); and whether a piece looks more like a chart in a mirror than like one.
 */
export function frameCandidates(
  scale: SearchScale,
  glance: ChartTemplate,
  sets: readonly TemplateSet[],
  least: number,
  threshold: Threshold,
): { readonly matches: MatchedChart[]; readonly mirrorSeen: boolean } {
  const { image, noiseDn: noise } = scale
  const calm = noise > MOST_NOISE_DN ? smoothImage(image) : image
  const offset =
    noise > MOST_NOISE_DN
      ? threshold.noisyShare * noise
      : Math.max(threshold.leastDn, threshold.calmShare * noise)
  const outlines = darkPieceOutlines(darkRuns(calm, threshold.radius, offset), PIECE_LIMITS)
  const samples = new Float64Array(glance.count)
  const matches: MatchedChart[] = []
  let mirrorSeen = false
  for (const outline of outlines) {
    const quad = outlineQuad(outline)
    if (quad === null) continue
    const best = bestTurn(image, quad, glance, samples, scale.sampleVariance)
    const [a, b, c, d] = quad
    const mirrored = bestTurn(image, [b, a, d, c], glance, samples, scale.sampleVariance)
    if (mirrored !== null && mirrored.correlation > Math.max(LEAST_MIRRORED, best?.correlation ?? 0))
      mirrorSeen = true
    if (best === null || best.correlation < FIRST_CORRELATION) continue
    const match = followCandidate(image, best.map, glance, sets, least, scale.sampleVariance)
    if (match !== null) matches.push(match)
  }
  return { matches, mirrorSeen }
}

/** The quad as the frame, starting at each of its corners in turn: the one that agrees best with the template. */
function bestTurn(
  image: GreyImage,
  quad: Quad,
  template: ChartTemplate,
  samples: Float64Array,
  noiseVariance: number,
): { readonly map: PlaneMap; readonly correlation: number } | null {
  let best: { map: PlaneMap; correlation: number } | null = null
  for (let turn = 0; turn < 4; turn += 1) {
    const turned = [0, 1, 2, 3].map((k) => quad[(k + turn) % 4]!) as unknown as Quad
    const map = boxTo(FRAME, turned)
    if (!map.every(Number.isFinite)) continue
    sampleThrough(image, map, template, samples)
    const { correlation } = agreement(samples, template, undefined, noiseVariance)
    if (best === null || correlation > best.correlation) best = { map, correlation }
  }
  return best
}
