import type { Quad } from '../math/point.js'
import type { PixelRegion } from '../still/raster.js'
import { followCandidate, type MatchedChart } from './chartCandidate.js'
import { darkPieces } from './darkPieces.js'
import { darkRuns } from './darkRuns.js'
import { livelyBlocks } from './livelyBlocks.js'
import { glanceQuad, LEAST_WHOLE } from './glanceQuad.js'
import { matchRoom } from './matchChart.js'
import { outlineQuad } from './outlineQuad.js'
import type { PlaneMap } from './planeMap.js'
import type { SearchScale } from './searchScale.js'
import { searchTemplates } from './searchTemplates.js'

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
/** Least correlation of an outline's mirror image with the widest template to be told as a chart in a mirror. */
const LEAST_MIRRORED = 0.6
/** Over this noise the picture is smoothed before it is thresholded, code values. */
const MOST_NOISE_DN = 3.5
/** Outlines of a scale that are followed at most, the likeliest first. */
const MOST_FOLLOWED = 200

/** A piece that looks more like a chart in a mirror than like one. */
export interface MirrorSight {
  readonly correlation: number
  /** Around it, px of the still. */
  readonly region: PixelRegion
}

/** Charts among the dark pieces of one scale, not verified yet. What looks like a chart in a mirror is added to `mirrors`. */
export function frameCandidates(
  scale: SearchScale,
  darkness: Darkness,
  least: number,
  mirrors: MirrorSight[],
): MatchedChart[] {
  const { image, noiseDn: noise } = scale
  const { glance, sets } = searchTemplates()
  const noisy = noise > MOST_NOISE_DN
  const offset = noisy ? darkness.noisyShare * noise : calmOffset(darkness, noise)
  const leastGain = Math.max(LEAST_CONTRAST_DN, LEAST_CONTRAST_NOISE * noise)
  const lively = livelyBlocks(scale.half, image.width, image.height, leastGain)
  const runs = darkRuns(image, scale.half, WINDOW_RADIUS, offset, noisy, lively)
  const pieces = darkPieces(runs, PIECE_LIMITS)
  const room = matchRoom(sets[0]!.common.count)
  const buffer = { x: new Float64Array(512), y: new Float64Array(512) }
  const starts: { readonly map: PlaneMap; readonly correlation: number }[] = []
  for (let piece = 0; piece < pieces.count; piece += 1) {
    const quad = outlineQuad(pieces, piece, buffer)
    if (quad === null) continue
    const seen = glanceQuad(image, quad, glance, room, scale.sampleVariance, leastGain)
    if (seen === null) continue
    if (seen.mirrored > Math.max(LEAST_MIRRORED, seen.correlation))
      mirrors.push({ correlation: seen.mirrored, region: regionAround(quad, 2 ** scale.level) })
    if (seen.correlation >= LEAST_WHOLE) starts.push(seen)
  }
  starts.sort((a, b) => b.correlation - a.correlation)
  const matches: MatchedChart[] = []
  for (const start of starts.slice(0, MOST_FOLLOWED)) {
    const match = followCandidate(image, start.map, least, scale.sampleVariance, room)
    if (match !== null) matches.push(match)
  }
  return matches
}

/** Twice the quad's extent, px of the still. */
function regionAround(quad: Quad, scale: number): PixelRegion {
  const xs = quad.map((corner) => corner[0])
  const ys = quad.map((corner) => corner[1])
  const [left, top] = [Math.min(...xs), Math.min(...ys)]
  const [width, height] = [Math.max(...xs) - left, Math.max(...ys) - top]
  return {
    left: scale * (left - width / 2),
    top: scale * (top - height / 2),
    width: 2 * scale * width,
    height: 2 * scale * height,
  }
}

function calmOffset({ leastDn, calmShare }: Darkness, noise: number): number {
  return calmShare === 0 ? leastDn : Math.max(leastDn, calmShare * noise)
}
