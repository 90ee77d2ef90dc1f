import type { Homography } from '../../math/homography.js'
import type { Quad } from '../../math/point.js'
import type { PixelRegion } from '../../still/raster.js'
import { followCandidate, LEAST_CANDIDATE, type MatchedChart } from '../match/chartCandidate.js'
import { matchRoom } from '../match/matchChart.js'
import { searchTemplates } from '../match/searchTemplates.js'
import { darkPieces } from './darkPieces.js'
import { darkRuns } from './darkRuns.js'
import { glanceQuad } from './glanceQuad.js'
import { livelyBlocks } from './livelyBlocks.js'
import { outlineQuad } from './outlineQuad.js'
import type { SearchScale } from './searchScale.js'

/**
 * How far below its surroundings a pixel must be to be dark: a share of the noise where the picture is smoothed and where it is not, and at
 * least, code values; negative: dark is also what is a little lighter.
 */
export interface Darkness {
  readonly noisyShare: number
  readonly calmShare: number
  readonly leastDn: number
}
/** Finds nearly all charts. */
export const ANY_DARKNESS: Darkness = { noisyShare: 0, calmShare: 0, leastDn: 0 }
/** Keeps a frame in one piece that blur leaves hardly darker than its surroundings, as on a chart at the edge of a wide lens. */
export const FAINT_DARKNESS: Darkness = { noisyShare: 0, calmShare: 0, leastDn: -8 }
/** Parts the frame from what is a little dark beside it, as a hand is. */
export const CLEAR_DARKNESS: Darkness = { noisyShare: 0.2, calmShare: 1, leastDn: 2 }

/** Half the window of the local mean, pixels of the scale halved once more. */
const WINDOW_RADIUS = 2
/** Least contrast between paper and ink, code values and against the noise: what a chart that can be measured has, and noise has not. */
const LEAST_CONTRAST_DN = 8
const LEAST_CONTRAST_NOISE = 2
/** Bounding boxes looked at, pixels of the scale at hand. */
const PIECE_LIMITS = { leastSide: 7, mostSide: 110 }
/** Bounding boxes of what may be a chart that only the next finer scale can tell, and the longest side of such an outline: 1.7 px to a module. */
const FARTHER_LEAST_SIDE = 5
const FARTHER_MOST_SIDE = 20
/** Least correlation of such an outline. */
const LEAST_FARTHER = 0.4
/** What a region reaches beyond that, px of its scale. */
const SIGHT_MARGIN_PX = 4
/** Least correlation of an outline with the widest template, before any refinement. */
const LEAST_WHOLE = 0.5
/** Least correlation of an outline's mirror image with the widest template to be told as a chart in a mirror. */
const LEAST_MIRRORED = 0.6
/** Over this noise the picture is smoothed before it is thresholded, code values. */
const MOST_NOISE_DN = 3.5
/** Outlines of a scale that are followed at most, the likeliest first. */
const MOST_FOLLOWED = 200

/** A place to be looked into: a piece that looks like a chart in a mirror, or like one that is too small to be told at its scale. */
export interface ChartSight {
  readonly correlation: number
  /** Around it, px of the still. */
  readonly region: PixelRegion
}

/** Where a chart may stand: modules to pixels of the scale, and how it agrees at the first glance. */
interface ChartStart {
  readonly map: Homography
  readonly correlation: number
}

/** What a look for frames is told beside the scale. */
export interface FrameSearch {
  readonly darkness: Darkness
  /** What looks like a chart in a mirror is added to these; and to those, where given, what looks like one but is small. */
  readonly mirrors: ChartSight[]
  readonly farther?: ChartSight[]
  /** Blocks of the picture that span less are passed over, code values. */
  readonly leastSpanDn?: number
}

/** Charts among the dark pieces of one scale, not verified yet. */
export function frameCandidates(scale: SearchScale, search: FrameSearch): MatchedChart[] {
  const room = matchRoom(searchTemplates().sets[0]!.common.count)
  const matches: MatchedChart[] = []
  for (const start of frameStarts(scale, search).slice(0, MOST_FOLLOWED)) {
    const match = followCandidate(scale.image, start.map, LEAST_CANDIDATE, scale.sampleVariance, room)
    if (match !== null) matches.push(match)
  }
  return matches
}

/** Dark pieces of one scale that look like the chart's frame, the likeliest first. */
export function frameStarts(
  scale: SearchScale,
  { darkness, mirrors, farther, leastSpanDn = 0 }: FrameSearch,
): ChartStart[] {
  const { image, noiseDn: noise } = scale
  const { glance } = searchTemplates()
  const noisy = noise > MOST_NOISE_DN
  const offset = noisy ? darkness.noisyShare * noise : calmOffset(darkness, noise)
  const leastGain = Math.max(LEAST_CONTRAST_DN, LEAST_CONTRAST_NOISE * noise)
  const lively = livelyBlocks(scale.half, image.width, image.height, Math.max(leastGain, leastSpanDn))
  const runs = darkRuns(image, scale.half, WINDOW_RADIUS, offset, noisy, lively)
  const limits = farther === undefined ? PIECE_LIMITS : { ...PIECE_LIMITS, leastSide: FARTHER_LEAST_SIDE }
  const leastSeen = farther === undefined ? LEAST_WHOLE : LEAST_FARTHER
  const pieces = darkPieces(runs, limits)
  const room = matchRoom(glance.count)
  const buffer = { x: new Float64Array(512), y: new Float64Array(512) }
  const starts: ChartStart[] = []
  for (let piece = 0; piece < pieces.count; piece += 1) {
    const quad = outlineQuad(pieces, piece, buffer)
    if (quad === null) continue
    const seen = glanceQuad(image, quad, glance, room, scale.sampleVariance, leastGain, leastSeen)
    if (seen === null) continue
    if (seen.mirrored > Math.max(LEAST_MIRRORED, seen.correlation))
      mirrors.push({ correlation: seen.mirrored, region: regionAround(quad, 2 ** scale.level) })
    if (farther !== undefined && seen.correlation >= leastSeen && longestSide(quad) < FARTHER_MOST_SIDE)
      farther.push({ correlation: seen.correlation, region: regionAround(quad, 2 ** scale.level) })
    if (seen.correlation >= LEAST_WHOLE && pieces.rows[piece]! >= PIECE_LIMITS.leastSide) starts.push(seen)
  }
  return starts.sort((a, b) => b.correlation - a.correlation)
}

function longestSide(quad: Quad): number {
  return Math.max(
    ...quad.map(([x, y], k) => Math.hypot(x - quad[(k + 1) % 4]![0], y - quad[(k + 1) % 4]![1])),
  )
}

/** Twice the quad's extent and some px more, px of the still. */
function regionAround(quad: Quad, scale: number): PixelRegion {
  const xs = quad.map((corner) => corner[0])
  const ys = quad.map((corner) => corner[1])
  const [left, top] = [Math.min(...xs), Math.min(...ys)]
  const [width, height] = [Math.max(...xs) - left, Math.max(...ys) - top]
  return {
    left: scale * (left - width / 2 - SIGHT_MARGIN_PX),
    top: scale * (top - height / 2 - SIGHT_MARGIN_PX),
    width: 2 * scale * (width + SIGHT_MARGIN_PX),
    height: 2 * scale * (height + SIGHT_MARGIN_PX),
  }
}

function calmOffset({ leastDn, calmShare }: Darkness, noise: number): number {
  return calmShare === 0 ? leastDn : Math.max(leastDn, calmShare * noise)
}
