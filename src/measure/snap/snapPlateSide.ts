import { failure, success, type Outcome } from '../../math/outcome.js'
import { codeFromLinear, linearFromCode } from '../../math/srgb.js'
import type { Raster } from '../../still/raster.js'
import { edgeProfiles, pooledProfile, type EdgeProfile } from '../edge/edgeProfile.js'
import { edgeAperture, type EdgeAperture } from '../edge/edgeResponse.js'
import type { SideLine } from '../edge/sideLine.js'
import { measureSays } from '../sentences.js'
import { edgeCandidates } from './edgeCandidates.js'
import { noiseOf } from './fitEdges.js'
import { fitSegmentLine } from './fitSegmentLine.js'
import { segmentShifts } from './segmentShifts.js'
import {
  CLIPPED_CODE,
  LEAST_SHARE,
  MOST_MISFIT,
  NOISE_TIMES,
  stripShape,
  withoutStrays,
  type SideNature,
  type SnappedSide,
  type SnapSideFailure,
} from './snapSide.js'
import { fitSteps, type KnownOfSteps, type StepsFit } from './stepsModel.js'

/** What a plate's ends tell of its top and bottom, which its characters come near: its ground (linear light) and the blur, px. */
export interface PlateLook {
  readonly ground: number
  readonly sigmaPx: number
}

/** A side of a plate whose border is known. */
export interface PlateSideNature extends SideNature {
  /** Across the side. */
  readonly pxPerM: number
}

/** Characters begin so far inside a plate's rim, metres, one standard deviation beside it. Common practice, no source. */
const CHARACTERS_M = 0.016
const CHARACTERS_SD_M = 0.0025
/** So far beyond where they begin they are read, px; and so far in an end is, which they keep away from. */
const INTO_PX = 0.8
const END_PX = 3.5
/** No edge farther from a side than so many standard deviations of its clicks is meant by it. */
const FAR_SIGMAS = 3
/** The ground is alike along a plate to this share, and the blur to this: this project's conventions. */
const GROUND_SD = 0.04
const BLUR_SD = 0.15
const USUAL_BLUR_SD = 0.5
/** What ink leaves of the ground's light, and how far that is known, in its logarithm. This project's convention. */
const INK = 0.07
const INK_SD = 0.4
const VAGUE_SD = 2
/** A ground less light than what lies around it by so many code values tells no edge, by trial. */
const LEAST_STEP_CODE = 40
/** What such a row leaves of a side that is one, code values: what is known of it is held against pixels that are so far off, by trial. */
const MISFIT_CODE = 12
const REACH_PX = 7
/** So far outside the rim is read, px. */
const BEYOND_PX = 3.5

/**
 * Fits a side of a plate whose border is known, by the `look` its ends have; an end, which characters keep away from, where that is null. What lies within the still's
 * own blur of the edge is fitted as one row of grounds (characters, ground, a border where one is said, what lies beyond) whose distances are known and which moves
 * as one; the line is that of the rim. `clickSigmaPx`: how well the side was placed. Fails, by name, where what is seen is no such row.
 */
export function snapPlateSide(
  raster: Raster,
  side: SideLine,
  nature: PlateSideNature,
  look: PlateLook | null,
  clickSigmaPx: number,
): Outcome<SnappedSide, SnapSideFailure> {
  const reachPx = Math.max(4, Math.min(REACH_PX, Math.floor(0.45 * side.depthPx)))
  const candidates = edgeCandidates(
    edgeProfiles(raster, side, stripShape(side, 1, reachPx, nature)),
    reachPx,
    LEAST_STEP_CODE / 2,
  )
  const farPx = FAR_SIGMAS * clickSigmaPx
  const [edge] = candidates.filter(
    ({ stepCode, offsetPx }) => stepCode < 0 && Math.abs(offsetPx + nature.rimPx) < farPx,
  )
  if (edge === undefined) return failure(measureSays['snap-no-edge']())
  const light = { ...raster, data: raster.data.map(linearFromCode) }
  const aperture = edgeAperture(side.outward[0], side.outward[1])
  let line: SideLine = { ...side, offsetPx: edge.offsetPx + nature.rimPx, slopePx: edge.slopePx }
  for (let round = 0; ; round += 1) {
    const shape = stripShape(line, look?.sigmaPx ?? 1, reachPx, nature)
    const codes = edgeProfiles(raster, line, shape)
    const [profiles, pooled] = meansOfLight(codes, edgeProfiles(light, line, shape))
    const noise = noiseOf(pooledProfile(codes, [...codes.keys()]))
    const noiseCode = Math.max(MISFIT_CODE, Math.sqrt(noise))
    const fit = fitRow(pooled, nature, look, aperture, noiseCode)
    if (!fit.ok) return failure(measureSays['snap-no-fit']())
    const { model, placeVariance } = fit.value
    const rim = model.edgesPx.length - 1
    const free = { edge: rim, edges: [...model.edgesPx.keys()], levels: [0, rim + 1] }
    const shifts = segmentShifts(profiles, model, free, aperture, Math.max(BEYOND_PX, insidePx(nature, look)))
    const places = shifts.flatMap((shift, i) => {
      if (shift === null || !Number.isFinite(shift.shiftPx)) return []
      const along = shape.fromPx + ((i + 0.5) * (shape.toPx - shape.fromPx)) / shape.segments
      return [{ place: along / side.lengthPx - 0.5, ...shift }]
    })
    const kept = withoutStrays(places)
    const curve = fitSegmentLine(kept, nature.bowPriorPx)
    if (curve === null || kept.length < LEAST_SHARE * shape.segments)
      return failure(measureSays['snap-broken-edge']())
    line = {
      ...line,
      offsetPx: line.offsetPx + model.edgesPx[rim]! + curve.offsetPx,
      slopePx: line.slopePx + curve.slopePx,
      bowPx: line.bowPx + curve.bowPx,
    }
    if (round < 3) continue
    const [insideCode, outsideCode] = [model.levels[look === null ? 0 : 1]!, model.levels[rim + 1]!].map(
      codeFromLinear,
    ) as [number, number]
    if (insideCode > CLIPPED_CODE) return failure(measureSays['snap-clipped']())
    if (insideCode - outsideCode < LEAST_STEP_CODE) return failure(measureSays['snap-no-edge']())
    if (!isClean(fit.value, pooled, noise, insideCode - outsideCode))
      return failure(measureSays['snap-no-clean-edge']())
    const covariancePx2 = curve.covariancePx2.map((row, i) =>
      row.map((value, j) => value + (i === 0 && j === 0 ? placeVariance[rim]! * noiseCode ** 2 : 0)),
    )
    return success({
      line,
      curve: { ...curve, covariancePx2 },
      insideCode,
      outsideCode,
      sigmaPx: model.sigmaPx,
      halo: 0,
      isRim: true,
    })
  }
}

/** Profiles, and their sum, whose code values are those of the mean light: where strokes and gaps alternate along a side, their code values' mean is lighter than that. */
function meansOfLight(
  codes: readonly EdgeProfile[],
  lights: readonly EdgeProfile[],
): readonly [readonly EdgeProfile[], EdgeProfile] {
  const all = [...codes.keys()]
  const mean = (code: EdgeProfile, light: EdgeProfile): EdgeProfile => ({
    ...code,
    codeSum: code.count.map((count, bin) =>
      count > 0 ? count * codeFromLinear(light.codeSum[bin]! / count) : 0,
    ),
  })
  return [
    all.map((i) => mean(codes[i]!, lights[i]!)),
    mean(pooledProfile(codes, all), pooledProfile(lights, all)),
  ]
}

/** So far inside the rim a side is read, px. */
function insidePx({ pxPerM }: PlateSideNature, look: PlateLook | null): number {
  return look === null ? END_PX : CHARACTERS_M * pxPerM + INTO_PX
}

/** The row of grounds as it should be seen with the rim at 0, fitted: its distances and blur held to what is known of them. */
function fitRow(
  profile: EdgeProfile,
  nature: PlateSideNature,
  look: PlateLook | null,
  aperture: EdgeAperture,
  noiseCode: number,
): Outcome<StepsFit> {
  const { pxPerM, rimPx } = nature
  const ground = look?.ground ?? lightBetween(profile, -END_PX, -END_PX + 1.5)
  const sigmaPx = look?.sigmaPx ?? 1
  const edgesPx = [...(look === null ? [] : [-CHARACTERS_M * pxPerM]), ...(rimPx > 0 ? [-rimPx] : []), 0]
  const levels = [
    ...(look === null ? [] : [0.4 * ground]),
    ground,
    ...(rimPx > 0 ? [INK * ground] : []),
    lightBetween(profile, BEYOND_PX - 1.5, BEYOND_PX),
  ]
  const facts: KnownOfSteps[] = []
  const know = (parts: Readonly<Record<number, number>>, value: number, sd: number): void => {
    const by = Array.from({ length: 2 * edgesPx.length + 2 }, (_, i) => parts[i] ?? 0)
    facts.push({ by, value, sd: sd / noiseCode })
  }
  const rim = levels.length + edgesPx.length - 1
  if (look !== null) {
    know({ [levels.length]: -1, [rim]: 1 }, CHARACTERS_M * pxPerM, CHARACTERS_SD_M * pxPerM)
    know({ 1: 1 }, Math.log(ground), GROUND_SD)
    know({ [rim + 1]: 1 }, Math.log(sigmaPx), BLUR_SD)
  } else know({ [rim + 1]: 1 }, Math.log(sigmaPx), USUAL_BLUR_SD)
  if (rimPx > 0) {
    know({ [rim - 1]: -1, [rim]: 1 }, rimPx, 0.01)
    // Of ink only so much is known that its place in the row counts.
    know({ [levels.length - 2]: 1 }, Math.log(INK * ground), INK_SD)
  }
  // A ground that hardly shows is held near what it was begun with, or nothing would determine it.
  for (const level of [...(look === null ? [] : [0]), levels.length - 1])
    know({ [level]: 1 }, Math.log(levels[level]!), VAGUE_SD)
  return fitSteps(profile, { levels, edgesPx, sigmaPx }, aperture, -insidePx(nature, look), BEYOND_PX, facts)
}

/** The mean light between two places across, px. */
function lightBetween(profile: EdgeProfile, fromPx: number, toPx: number): number {
  let [count, sum] = [0, 0]
  for (let bin = 0; bin < profile.count.length; bin += 1) {
    const at = profile.acrossSum[bin]! / profile.count[bin]!
    if (!(at > fromPx && at < toPx)) continue
    count += profile.count[bin]!
    sum += profile.codeSum[bin]!
  }
  return Math.max(1e-4, linearFromCode(count > 0 ? sum / count : 128))
}

/** Whether a fit leaves no more than noise, or than a sharpened edge would. */
function isClean(
  { squares, bins }: StepsFit,
  profile: EdgeProfile,
  noise: number,
  stepCode: number,
): boolean {
  const pixels = profile.count.reduce((sum, count) => sum + count, 0)
  return squares / bins < NOISE_TIMES * noise || Math.sqrt(squares / pixels) < MOST_MISFIT * stepCode
}
