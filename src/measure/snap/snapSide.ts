import { median } from '../../math/median.js'
import { failure, success, type Outcome } from '../../math/outcome.js'
import type { Raster } from '../../still/raster.js'
import { candidateStrength, edgeCandidates, type EdgeCandidate } from './edgeCandidates.js'
import { edgeProfiles, pooledProfile, type EdgeProfile, type StripShape } from '../edge/edgeProfile.js'
import type { EdgeModel } from '../edge/edgeModel.js'
import { edgeAperture, type EdgeAperture } from '../edge/edgeResponse.js'
import { fitProfile, type ProfileFit } from '../edge/profileFit.js'
import { fitSegmentLine, type SideCurve } from './fitSegmentLine.js'
import { segmentShifts } from './segmentShifts.js'
import type { SideLine } from '../edge/sideLine.js'
import { codeFromLinear } from '../../math/srgb.js'
import { fitEdges, noiseOf, type FittedEdges } from './fitEdges.js'
import { measureSays } from '../sentences.js'

export type SnapSideFailure =
  'snap-too-small' | 'snap-no-edge' | 'snap-two-edges' | 'snap-broken-edge' | 'snap-clipped' | 'snap-no-fit'

/** One side of an outline fitted to the edge beside it. */
export interface SnappedSide {
  /** Where the edge lies, against the side as it was given. */
  readonly line: SideLine
  /** Of the line's offset, slope and bow, for the variances of `curve`. */
  readonly curve: SideCurve
  readonly insideCode: number
  readonly outsideCode: number
  readonly sigmaPx: number
  /** The share of its step by which the camera sharpened it (see `EdgeModel`); 0 where it did not. */
  readonly halo: number
  /** Whether it is a plate's rim, past a border that was said; left out where it is the edge that is seen. */
  readonly isRim?: boolean
}

/** Strips are this wide to either side at most, and a side must be this long and deep, px. */
const MOST_REACH_PX = 14
const LEAST_DEPTH_PX = 9
const LEAST_LENGTH_PX = 9
const FIT_REACH_PX = 7
/** Least step, code values. */
const LEAST_STEP_CODE = 12
/** An edge counts beside another from this share of its strength on. */
const RIVAL_SHARE = 0.35
/** A side that was given this near to an edge, and so much nearer than to any other, means it, px. */
const MEANT_PX = 1.75
const NEARER_PX = 0.75
/** So much of a side must show its edge. */
export const LEAST_SHARE = 0.7
export const CLIPPED_CODE = 250
/** Another edge nearer than so many blurs (pixel included) and so many px pulls the fitted one with it: this project's convention, by simulation. */
const NEAREST_PER_SIGMA = 2.2
const NEAREST_PX = 0.7
const PIXEL_SIGMA_PX = 0.29
/** However steep a sharpened edge is, a segment is read so far to either side, px: a level edge fills one bin in four. */
const LEAST_NEAR_PX = 2.75
/** A step this much fainter than the edge's own pulls it by hundredths of a px. */
const FAINT_SHARE = 0.15
/** A misfit is told where it is more than noise and more than this share of the step: a sharpened edge leaves 6 %. */
export const NOISE_TIMES = 3
export const MOST_MISFIT = 0.08

/** What a side is expected to be. */
export interface SideNature {
  /** How far a straight side may bend through the lens, one standard deviation, px. */
  readonly bowPriorPx: number
  /** Not read so near to its ends, px: a border inside the outline crosses there. */
  readonly leastMarginPx: number
  /** Whether lines or characters may run close to the outline. */
  readonly bordered: boolean
  /** How wide a dark border is said to be that ends at the rim, px; 0 where none is. */
  readonly rimPx: number
}

/** Fits one side to the edge that is meant by it. */
export function snapSide(
  raster: Raster,
  side: SideLine,
  nature: SideNature,
): Outcome<SnappedSide, SnapSideFailure> {
  if (side.depthPx < LEAST_DEPTH_PX || side.lengthPx < LEAST_LENGTH_PX) {
    return failure(measureSays['snap-too-small']())
  }
  const reachPx = Math.max(4, Math.min(MOST_REACH_PX, Math.floor(0.45 * side.depthPx)))
  const first = stripShape(side, 1, reachPx, nature)
  const candidates = edgeCandidates(edgeProfiles(raster, side, first), reachPx, LEAST_STEP_CODE)
  const chosen = chooseEdge(candidates, nature)
  if (!chosen.ok) return chosen
  const { edge, others } = chosen.value
  return fitLine(raster, side, edge, others, nature)
}

/** How far a candidate lies from the side as given, px. */
function distanceOf({ offsetPx, slopePx }: EdgeCandidate): number {
  return Math.sqrt(offsetPx ** 2 + slopePx ** 2 / 12)
}

/** A border's own outer edge is found so far from where it is said to be, px: it runs into the inner one. */
const RIM_REACH_PX = 2

/** Whether an edge is where a dark border ends that begins at another one. */
function endsRim(one: EdgeCandidate, begins: EdgeCandidate, rimPx: number): boolean {
  const beyondPx = one.offsetPx - begins.offsetPx
  return one.stepCode > 0 && beyondPx > 0 && beyondPx < rimPx + RIM_REACH_PX
}

/** Whether an edge is that of a plate's characters, dark on light: it lies inside one where the light ground ends. */
function isCharacters(one: EdgeCandidate, other: EdgeCandidate): boolean {
  return one.stepCode > 0 && other.stepCode < 0 && one.offsetPx < other.offsetPx
}

/** The only strong edge, else the one the side was clearly meant for. */
function chooseEdge(
  candidates: readonly EdgeCandidate[],
  { bordered, rimPx }: SideNature,
): Outcome<{ edge: EdgeCandidate; others: readonly EdgeCandidate[] }, SnapSideFailure> {
  const strongest = rimPx > 0 ? candidates.find(({ stepCode }) => stepCode < 0) : candidates[0]
  if (strongest === undefined) return failure(measureSays['snap-no-edge']())
  const rivals = candidates.filter(
    (one) => candidateStrength(one) >= RIVAL_SHARE * candidateStrength(strongest),
  )
  const strong = rivals
    .filter((one) => rimPx === 0 || !endsRim(one, strongest, rimPx))
    .filter((one) => !bordered || !rivals.some((other) => isCharacters(one, other)))
    .sort((a, b) => distanceOf(a) - distanceOf(b))
  const [near, next] = strong
  const isMeant =
    next === undefined || (distanceOf(near!) <= MEANT_PX && distanceOf(next) - distanceOf(near!) >= NEARER_PX)
  if (!isMeant) return failure(measureSays['snap-two-edges'](Math.abs(near!.offsetPx - next.offsetPx)))
  if (near!.share < LEAST_SHARE) {
    return failure(measureSays['snap-shown-in-parts']())
  }
  return success({ edge: near!, others: candidates.filter((one) => one !== near) })
}

/** Near its corners an edge is rounded by the blur of the next one. */
export function stripShape(line: SideLine, sigmaPx: number, reachPx: number, nature: SideNature): StripShape {
  const marginPx = Math.min(0.25 * line.lengthPx, Math.max(nature.leastMarginPx, 1.6 * sigmaPx + 0.9))
  const usablePx = line.lengthPx - 2 * marginPx
  const segments = Math.max(4, Math.min(24, Math.round(usablePx / 5)))
  return { fromPx: marginPx, toPx: line.lengthPx - marginPx, segments, reachPx, every: 1 }
}

function fitLine(
  raster: Raster,
  side: SideLine,
  edge: EdgeCandidate,
  others: readonly EdgeCandidate[],
  nature: SideNature,
): Outcome<SnappedSide, SnapSideFailure> {
  const aperture = edgeAperture(side.outward[0], side.outward[1])
  let line: SideLine = { ...side, offsetPx: edge.offsetPx, slopePx: edge.slopePx }
  let sigmaPx = 1
  const besides = others
    .filter((one) => candidateStrength(one) >= 0.15 * candidateStrength(edge))
    .map((one) => one.offsetPx - edge.offsetPx)
  for (let round = 0; ; round += 1) {
    const reachPx = Math.min(FIT_REACH_PX, Math.max(4, Math.floor(0.45 * side.depthPx)))
    const shape = stripShape(line, sigmaPx, reachPx, nature)
    const profiles = edgeProfiles(raster, line, shape)
    const pooled = pooledProfile(profiles, [...profiles.keys()])
    const fit = fitEdges(pooled, besides, Math.sign(edge.stepCode), aperture, nature.bordered && round > 0)
    if (!fit.ok) return failure(measureSays['snap-no-fit']())
    const { model, edge: index } = fit.value
    sigmaPx = model.sigmaPx
    const nearPx = Math.max(LEAST_NEAR_PX, 2.2 * sigmaPx + 1.2)
    const shifts = segmentShifts(
      profiles,
      model,
      { edge: index, edges: [index], levels: [index, index + 1] },
      aperture,
      nearPx,
    )
    const places = shifts.flatMap((shift, i) => {
      if (shift === null || !(shift.stepShare > 0.5 && shift.stepShare < 2)) return []
      const along = shape.fromPx + ((i + 0.5) * (shape.toPx - shape.fromPx)) / shape.segments
      return [{ place: along / side.lengthPx - 0.5, ...shift }]
    })
    const kept = withoutStrays(places)
    const curve = fitSegmentLine(kept, nature.bowPriorPx)
    if (curve === null || kept.length < LEAST_SHARE * shape.segments) {
      return failure(measureSays['snap-broken-edge']())
    }
    line = {
      ...line,
      offsetPx: line.offsetPx + model.edgesPx[index]! + curve.offsetPx,
      slopePx: line.slopePx + curve.slopePx,
      bowPx: line.bowPx + curve.bowPx,
    }
    if (round < 2) continue
    const halo = nature.bordered && model.edgesPx.length > 1 ? null : haloOf(fit.value, pooled, aperture)
    const fault = crowded(fit.value, halo, pooled, nature)
    if (fault !== null) return fault
    const insideCode = codeFromLinear(model.levels[index]!)
    const outsideCode = codeFromLinear(model.levels[index + 1]!)
    if (Math.max(insideCode, outsideCode) > CLIPPED_CODE) {
      return failure(measureSays['snap-clipped']())
    }
    if (Math.abs(outsideCode - insideCode) < LEAST_STEP_CODE) {
      return failure(measureSays['snap-no-edge']())
    }
    const seen = halo?.model ?? { sigmaPx, halo: 0 }
    return success({ line, curve, insideCode, outsideCode, sigmaPx: seen.sigmaPx, halo: seen.halo })
  }
}

/** A halo must explain so much of what an edge alone leaves, and lift it by so much, to be one. This project's convention. */
const HALO_SHARE = 0.5
const LEAST_HALO = 0.1

/** The edge with the halo of a camera's sharpening, where that explains it: better by far than no halo, or as well as more edges. */
function haloOf(
  { model: { levels, edgesPx, sigmaPx }, edge, squares }: FittedEdges,
  profile: EdgeProfile,
  aperture: EdgeAperture,
): ProfileFit | null {
  const start: EdgeModel = {
    inside: levels[0]!,
    outside: levels.at(-1)!,
    acrossPx: edgesPx[edge]!,
    sigmaPx: Math.max(0.4, 1.3 * sigmaPx),
    halo: 0.5,
    haloRadiusPx: 1.5 * sigmaPx + 0.7,
  }
  const fit = fitProfile(profile, start, aperture, 'edge and halo')
  if (!fit.ok) return null
  const { model, squares: left } = fit.value
  const isHalo = model.halo > LEAST_HALO && Math.abs(model.acrossPx - edgesPx[edge]!) < 1
  return isHalo && left < (edgesPx.length > 1 ? 1 : HALO_SHARE) * squares ? fit.value : null
}

/** A plate that is so much lighter farther in than along its edge has a line inside its rim that is not told apart from what lies outside it, by trial: its edge is seen too far out. */
const MOST_LINED = 1.25

/** Why an edge cannot be told from what runs beside it, or null: another one within the blur, or something that is no row of even grounds at all. */
function crowded(
  { model, edge, bins, squares: plain }: FittedEdges,
  halo: ProfileFit | null,
  profile: EdgeProfile,
  { bordered, rimPx }: SideNature,
): ReturnType<typeof failure<SnapSideFailure>> | null {
  const least = NEAREST_PER_SIGMA * Math.hypot(model.sigmaPx, PIXEL_SIGMA_PX) + NEAREST_PX
  const codes = model.levels.map(codeFromLinear)
  const stepOf = (i: number): number => Math.abs(codes[i + 1]! - codes[i]!)
  const isLined = bordered && edge > 0 && model.levels[edge - 1]! > MOST_LINED * model.levels[edge]!
  if (isLined) return failure(measureSays['snap-crowded']())
  const near = model.edgesPx.some(
    (place, i) =>
      halo === null &&
      i !== edge &&
      !(rimPx > 0 && i === edge + 1 && model.levels[i + 1]! > model.levels[i]!) &&
      Math.abs(place - model.edgesPx[edge]!) < least &&
      stepOf(i) > FAINT_SHARE * stepOf(edge),
  )
  if (near) return failure(measureSays['snap-crowded']())
  const squares = halo?.squares ?? plain
  const pixels = profile.count.reduce((sum, count) => sum + count, 0)
  const noisy = squares / bins < NOISE_TIMES * noiseOf(profile)
  return noisy || Math.sqrt(squares / pixels) < MOST_MISFIT * stepOf(edge)
    ? null
    : failure(measureSays['snap-no-clean-edge']())
}

/** Leaves out segments with something else at the edge: farther from the median than four times the usual distance. */
export function withoutStrays<Shift extends { readonly shiftPx: number; readonly variancePx2: number }>(
  shifts: readonly Shift[],
): readonly Shift[] {
  const middle = median(shifts.map(({ shiftPx }) => shiftPx))
  const usual = median(shifts.map(({ shiftPx }) => Math.abs(shiftPx - middle)))
  const allowed = Math.max(0.3, 4 * 1.4826 * usual)
  return shifts.filter(({ shiftPx }) => Math.abs(shiftPx - middle) <= allowed)
}
