import { type Outcome, failure, success } from '../../math/outcome.js'
import type { Raster } from '../../still/raster.js'
import { edgeAtBins, type EdgeAtBins } from './edgeAtBins.js'
import { edgeAperture, type EdgeAperture } from './edgeResponse.js'
import type { EdgeModel } from './edgeModel.js'
import { edgeProfiles, pooledProfile, type EdgeProfile, type StripShape } from './edgeProfile.js'
import { alignedLine, firstLine } from './edgeAlignment.js'
import { profileFault, quietSegments, type EdgeFault } from './quietGround.js'
import { fitProfile } from './profileFit.js'
import type { SideLine } from './sideLine.js'
import { measureSays } from '../sentences.js'

/** One side's edge, its pixels gathered around where the edge really lies. */
export interface EdgeSide {
  /** Where the edge lies; the profiles' distances count from here. */
  readonly line: SideLine
  readonly aperture: EdgeAperture
  /** The profile of each quiet segment, and of all of them together. */
  readonly segments: readonly EdgeProfile[]
  readonly pooled: EdgeProfile
  /** A first fit without halo, and what it gives at the pooled profile's bins. */
  readonly model: EdgeModel
  readonly fitted: EdgeAtBins
}

/** Quiet ground needed on each side of an edge beyond its blur, px: this project's convention. */
const QUIET_GROUND_PX = 4
const FIRST_REACH_PX = 8
/** Segments are about this long, px: long enough for levels of their own, short enough to be many. */
const SEGMENT_PX = 10

/** The fit that only aligns the line may stop early, and needs no more rows (columns) of a long side. */
const ROUGH = 1e-2
const ALIGNING_LINES = 80

/** How far from the line a strip must reach for a blur, px: the blur's own foot and the quiet ground. */
function reachFor(sigmaPx: number): number {
  return Math.ceil(2.2 * sigmaPx + 0.5 + QUIET_GROUND_PX)
}

function stripShape(line: SideLine, sigmaPx: number, reachPx: number, last: boolean): StripShape {
  // Near its corners an edge is rounded by the blur of the next one.
  const marginPx = 3 * sigmaPx + 1.5
  const usablePx = line.lengthPx - 2 * marginPx
  const segments = Math.min(12, Math.max(3, Math.round(usablePx / SEGMENT_PX)))
  const every = last ? 1 : Math.max(1, Math.floor(usablePx / ALIGNING_LINES))
  return { fromPx: marginPx, toPx: line.lengthPx - marginPx, segments, reachPx, every }
}

/**
 * Reads one side of a quadrilateral: finds where its edge lies (corners may be clicked a pixel off), keeps the segments with quiet ground on both
 * sides, and fits levels and blur. Fails by name where the side is too short or shallow, has no contrast, no quiet ground, or clips.
 */
export function readEdgeSide(raster: Raster, side: SideLine): Outcome<EdgeSide, EdgeFault> {
  const aperture = edgeAperture(side.outward[0], side.outward[1])
  let sigmaPx = 1
  let reachPx = Math.min(FIRST_REACH_PX, Math.floor(side.depthPx / 2))
  if (reachPx < QUIET_GROUND_PX + 1 || side.lengthPx < 20) {
    return failure(measureSays['detail-too-small']())
  }
  const firstShape = stripShape(side, sigmaPx, reachPx, false)
  const first = firstLine(edgeProfiles(raster, side, firstShape), side, firstShape)
  if (!first.ok) return first
  let line = first.value.line
  let model = first.value.model
  for (let round = 0; ; round += 1) {
    const shape = stripShape(side, sigmaPx, reachPx, round === 1)
    if (shape.toPx - shape.fromPx < 12) {
      return failure(measureSays['detail-edges-too-short']())
    }
    const profiles = edgeProfiles(raster, line, shape)
    const quiet = quietSegments(profiles, model)
    const pooled = pooledProfile(profiles, quiet)
    const fault = profileFault(pooled, model, quiet.length, profiles.length)
    if (fault !== null) return fault
    const fit = fitProfile(pooled, model, aperture, 'edge', round === 0 ? ROUGH : undefined)
    if (!fit.ok) return failure(measureSays['detail-no-fit']())
    model = fit.value.model
    sigmaPx = model.sigmaPx
    const fitted = edgeAtBins(pooled, model, aperture)
    if (round === 1)
      return success({ line, aperture, segments: quiet.map((i) => profiles[i]!), pooled, model, fitted })
    line = alignedLine(line, shape, profiles, quiet, fitted, model.acrossPx)
    model = { ...model, acrossPx: 0 }
    reachPx = reachFor(Math.max(0.5, sigmaPx))
    if (reachPx > side.depthPx - 3 * sigmaPx) {
      return failure(measureSays['detail-blur-too-wide']())
    }
  }
}
