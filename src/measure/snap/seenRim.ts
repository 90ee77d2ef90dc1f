import type { Quad } from '../../math/point.js'
import { codeFromLinear, linearFromCode } from '../../math/srgb.js'
import type { Raster, StillPixels } from '../../still/raster.js'
import { edgeProfiles, pooledProfile, type EdgeProfile } from '../edge/edgeProfile.js'
import { edgeAperture } from '../edge/edgeResponse.js'
import { sideLines, type SideLine } from '../edge/sideLine.js'
import type { RectangleReference } from '../reference/reference.js'
import { regionNeeded } from '../regionNeeded.js'
import { noiseOf } from './fitEdges.js'
import { MOST_MISFIT } from './snapSide.js'
import { fitSteps, type KnownOfSteps, type StepsFit } from './stepsModel.js'

/** A dark line along a plate's rim, before lighter ground, as one still shows it. */
export interface SeenRim {
  readonly widthM: number
  /** Along how many of its four sides it is seen. */
  readonly sides: number
  /** Density of the plate there, px/m. */
  readonly pxPerM: number
}

/** From so many px/m on a border can be seen: with less, line and blur are one. By trial. */
const LEAST_PX_PER_M = 220
/** So far inside the given outline a side is read, metres, which its characters keep clear of, and so far outside it, metres and px at least. */
const INSIDE_M = 0.0105
const OUTSIDE_M = 0.008
const OUTSIDE_PX = 3.5
/** The line is darker than what lies on either side of it by so many code values. */
const LEAST_STEP_CODE = 40
/** What ink leaves of the ground's light, and how far that is known, in its logarithm: of a line thinner than the blur only its light is seen. This project's convention. */
const INK = 0.07
const INK_SD = 0.4
/** A line that leaves more is no ink, or is taken for wider than it is. By trial. */
const MOST_INK = 0.2
/** The blur is about a px, to this in its logarithm. This project's convention. */
const USUAL_BLUR_SD = 0.5
/** A line must leave so little of what one edge alone leaves. */
const MOST_LEFT = 0.35
/** Narrower it may be the halo of a sharpened edge, wider a shadow; its top's and its bottom's width agree within so much, metres. By trial. */
const LEAST_WIDTH_M = 0.0015
const MOST_WIDTH_M = 0.006
const ALIKE_M = 0.0015

/**
 * Looks whether a plate shows a dark border that ends at its rim: a dark line along its top, its bottom and an end of it, before ground that is lighter
 * than it. Corners in image coordinates, px, in the order of the reference, within a px or two of the rim. A line drawn inside the rim before ground as light as
 * the plate looks the same: it is a suggestion for somebody who can look. Null where none is seen, or the plate is too small to show one.
 */
export async function seenRim(
  still: StillPixels,
  corners: Quad,
  reference: RectangleReference,
): Promise<SeenRim | null> {
  const sides = sideLines(corners)
  const lengthM = (index: number): number => (index % 2 === 0 ? reference.widthM : reference.heightM)
  const pxPerM = Math.min(...sides.map(({ lengthPx }, index) => lengthPx / lengthM(index)))
  if (reference.marking !== 'characters' || !(pxPerM >= LEAST_PX_PER_M)) return null
  const raster = await still.region(regionNeeded(corners, still.width, still.height))
  // What lies across a side goes by the sides beside it.
  const across = (index: number): number =>
    (sides[(index + 1) % 4]!.lengthPx + sides[(index + 3) % 4]!.lengthPx) / 2 / lengthM(index + 1)
  const widths = sides.map((side, index) => lineWidthM(raster, side, across(index)))
  const [top, right, bottom, left] = widths as [number | null, number | null, number | null, number | null]
  // The ends are short: they bear the line out, and a band may hide it at one.
  if (top === null || bottom === null || (right === null && left === null)) return null
  if (Math.abs(top - bottom) > ALIKE_M) return null
  return { widthM: (top + bottom) / 2, sides: widths.filter((width) => width !== null).length, pxPerM }
}

/** How wide the dark line along a side is, metres; null where none is told. */
function lineWidthM(raster: Raster, side: SideLine, pxPerM: number): number | null {
  const insidePx = INSIDE_M * pxPerM
  const outsidePx = Math.max(OUTSIDE_PX, OUTSIDE_M * pxPerM)
  const reachPx = Math.ceil(Math.max(insidePx, outsidePx)) + 1
  const marginPx = Math.min(0.25 * side.lengthPx, 0.012 * pxPerM + 2)
  const shape = { fromPx: marginPx, toPx: side.lengthPx - marginPx, segments: 4, reachPx, every: 1 }
  const profiles = edgeProfiles(raster, side, shape)
  const profile = pooledProfile(profiles, [...profiles.keys()])
  const aperture = edgeAperture(side.outward[0], side.outward[1])
  const noiseCode = Math.sqrt(noiseOf(profile))
  const [ground, beyond] = [lightestIn(profile, -insidePx, 0), lightestIn(profile, 0, outsidePx)]
  const fit = (levels: readonly number[], edgesPx: readonly number[]): StepsFit | null => {
    const know = (index: number, value: number, sd: number): KnownOfSteps => ({
      by: Array.from({ length: 2 * edgesPx.length + 2 }, (_, i) => Number(i === index)),
      value,
      sd: sd / noiseCode,
    })
    const known = [know(2 * edgesPx.length + 1, 0, USUAL_BLUR_SD)]
    if (edgesPx.length === 2) known.push(know(1, Math.log(INK * ground), INK_SD))
    const fitted = fitSteps(profile, { levels, edgesPx, sigmaPx: 1 }, aperture, -insidePx, outsidePx, known)
    return fitted.ok ? fitted.value : null
  }
  const best = (fits: readonly (StepsFit | null)[]): StepsFit | null =>
    fits.reduce(
      (one, other) => (other !== null && other.squares < (one?.squares ?? Infinity) ? other : one),
      null,
    )
  const places = [-1.5, -1, -0.5, 0, 0.5, 1, 1.5]
  const line = best(places.map((at) => fit([ground, INK * ground, beyond], [at - 0.003 * pxPerM, at])))
  const edge = best(places.map((at) => fit([ground, beyond], [at])))
  if (line === null || line.squares > MOST_LEFT * (edge?.squares ?? Infinity)) return null
  const [inner, ink, outer] = line.model.levels.map(codeFromLinear) as [number, number, number]
  if (inner - ink < LEAST_STEP_CODE || outer - ink < LEAST_STEP_CODE) return null
  if (line.model.levels[1]! > MOST_INK * line.model.levels[0]!) return null
  const pixels = profile.count.reduce((sum, count) => sum + count, 0)
  if (Math.sqrt(line.squares / pixels) > MOST_MISFIT * (inner - ink)) return null
  const [begins, ends] = line.model.edgesPx as [number, number]
  const widthM = (ends - begins) / pxPerM
  return widthM > LEAST_WIDTH_M && widthM < MOST_WIDTH_M ? widthM : null
}

/** The lightest mean of a bin between two places across, px, as linear light. */
function lightestIn(profile: EdgeProfile, fromPx: number, toPx: number): number {
  let most = 1
  for (let bin = 0; bin < profile.count.length; bin += 1) {
    const at = profile.acrossSum[bin]! / profile.count[bin]!
    if (at > fromPx && at < toPx) most = Math.max(most, profile.codeSum[bin]! / profile.count[bin]!)
  }
  return Math.max(1e-4, linearFromCode(most))
}
