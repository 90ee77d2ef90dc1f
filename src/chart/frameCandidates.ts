import { followCandidate, type MatchedChart } from './chartCandidate.js'
import type { ChartTemplate, TemplateSet } from './chartTemplate.js'
import { darkPieces } from './darkPieces.js'
import { darkRuns } from './darkRuns.js'
import { glanceQuad } from './glanceQuad.js'
import { outlineQuad } from './outlineQuad.js'
import type { PlaneMap } from './planeMap.js'
import type { SearchScale } from './searchScale.js'

/**
 * How far below its surroundings dark begins, as a share of the noise where the picture is smoothed and where it is not, and at least, code
 * values.
 */
export interface Threshold {
  readonly noisyShare: number
  readonly calmShare: number
  readonly leastDn: number
}

/** The first finds nearly all charts; the second is tried where nothing was found. */
export const THRESHOLDS: readonly Threshold[] = [
  { noisyShare: 0.2, calmShare: 1, leastDn: 2 },
  { noisyShare: 0, calmShare: 0, leastDn: 0 },
]
/** Bounding boxes looked at, pixels of the scale at hand. */
const PIECE_LIMITS = { leastSide: 7, mostSide: 110 }
/** Least correlation of an outline with the widest template, before any refinement; and of its mirror image to be told as one. */
const FIRST_CORRELATION = 0.4
const LEAST_MIRRORED = 0.6
/** Over this noise the picture is smoothed before it is thresholded, code values. */
const MOST_NOISE_DN = 3.5
/** Outlines of a scale that are followed at most, the likeliest first. */
const MOST_FOLLOWED = 200

/**
 * Charts among the dark pieces of one scale, not verified yet (`glance`: a template of few samples for the first look); and whether a piece
 * looks more like a chart in a mirror than like one.
 */
export function frameCandidates(
  scale: SearchScale,
  glance: ChartTemplate,
  sets: readonly TemplateSet[],
  least: number,
  threshold: Threshold,
): { readonly matches: MatchedChart[]; readonly mirrorSeen: boolean } {
  const { image, noiseDn: noise } = scale
  const noisy = noise > MOST_NOISE_DN
  const offset = noisy
    ? threshold.noisyShare * noise
    : Math.max(threshold.leastDn, threshold.calmShare * noise)
  const pieces = darkPieces(darkRuns(image, scale.half(), offset, noisy), PIECE_LIMITS)
  const samples = new Float64Array(glance.count)
  const buffer = { x: new Float64Array(512), y: new Float64Array(512) }
  const starts: { readonly map: PlaneMap; readonly correlation: number }[] = []
  let mirrorSeen = false
  for (let piece = 0; piece < pieces.count; piece += 1) {
    const quad = outlineQuad(pieces, piece, buffer)
    if (quad === null) continue
    const seen = glanceQuad(image, quad, glance, samples, scale.sampleVariance)
    if (seen === null) continue
    if (seen.mirrored > Math.max(LEAST_MIRRORED, seen.correlation)) mirrorSeen = true
    if (seen.correlation >= FIRST_CORRELATION) starts.push(seen)
  }
  starts.sort((a, b) => b.correlation - a.correlation)
  const matches: MatchedChart[] = []
  for (const start of starts.slice(0, MOST_FOLLOWED)) {
    const match = followCandidate(image, start.map, glance, sets, least, scale.sampleVariance)
    if (match !== null) matches.push(match)
  }
  return { matches, mirrorSeen }
}
