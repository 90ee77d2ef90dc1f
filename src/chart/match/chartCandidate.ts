import { mapPoint, type Homography } from '../../math/homography.js'
import type { Point, Quad } from '../../math/point.js'
import type { ByteImage } from '../../still/searchBytes.js'
import { boxCorners, FRAME, FACES } from '../printed/chartGeometry.js'
import { LEAST_CORRELATION } from './chartLook.js'
import { agreement, refineMatch, sampleThrough, type MatchRoom, type RefineOptions } from './matchChart.js'
import { searchTemplates } from './searchTemplates.js'
import type { ChartTemplate, TemplateSet } from './template.js'

/** A chart matched at one scale; `map` takes modules to pixels of that scale. */
export interface MatchedChart {
  readonly map: Homography
  readonly face: number
  readonly correlation: number
  readonly kept: number
  readonly sigmaModules: number
  /** Squared residuals of the second best face over those of the best: what the reading of the face rests on. */
  readonly faceRatio: number
  /** Template and mask of the final match. */
  readonly template: ChartTemplate
  readonly mask: Uint8Array
}

/** The frame's corners under a map, clockwise from the chart's top left. */
export function frameCorners(map: Homography): Quad {
  return boxCorners(FRAME).map((corner) => mapPoint(map, corner[0], corner[1])) as unknown as Quad
}

/** Steps of the refinements: with the common template at wide blur, then at medium blur, then with the chart's own face. */
const WIDE_STEPS = 5
const MEDIUM_STEPS = 6
const FACE_STEPS = 4

/** A candidate goes to verification from this far below the correlation a chart must have. */
export const LEAST_CANDIDATE = LEAST_CORRELATION - 0.07

/** How far below the correlation asked for the first approach may be: true charts in simulated stills reach 0.46, all but one in fifty 0.79. */
const APPROACH_SLACK = 0.15

/**
 * Follows a start map to the chart it may stand on: wide blur first, then narrower, then the face that agrees best. Null where nothing
 * chart-like is reached. `noiseVariance`: of a sample, code values squared.
 */
export function followCandidate(
  image: ByteImage,
  start: Homography,
  leastCorrelation: number,
  noiseVariance: number,
  room: MatchRoom,
  trim?: number,
): MatchedChart | null {
  const options = (steps: number, affine = false): RefineOptions => ({
    steps,
    affine,
    ...(trim === undefined ? {} : { trim }),
  })
  // Where nothing is left out, no sample need be asked.
  const counted = (mask: Uint8Array): Uint8Array | undefined => (trim === undefined ? undefined : mask)
  const { glance, sets } = searchTemplates()
  const wide = sets[0]!
  // The widest blur serves for scoring only: it leaves a refinement too little to hold on to.
  const leading = sets.filter((set) => set.sigmaModules <= wide.sigmaModules)
  const approached = refineMatch(image, start, glance, options(WIDE_STEPS, true), room)
  if (approached === null || !plausibleFrame(frameCorners(approached.map))) return null
  const { samples } = room
  sampleThrough(image, approached.map, glance, samples)
  if (
    agreement(samples, glance, counted(approached.mask), noiseVariance).correlation <
    leastCorrelation - APPROACH_SLACK
  )
    return null
  sampleThrough(image, approached.map, wide.common, samples)
  let medium: { map: Homography; mask: Uint8Array } | null = null
  let mediumSet = wide
  let mediumCorrelation = leastCorrelation - APPROACH_SLACK
  for (const set of leading) {
    const { correlation } = agreement(samples, set.common, undefined, noiseVariance)
    if (correlation > mediumCorrelation)
      [mediumSet, mediumCorrelation, medium] = [set, correlation, approached]
  }
  if (medium === null) return null
  medium = refineMatch(image, approached.map, mediumSet.common, options(MEDIUM_STEPS), room)
  if (medium === null || !plausibleFrame(frameCorners(medium.map))) return null
  sampleThrough(image, medium.map, mediumSet.common, samples)
  if (
    agreement(samples, mediumSet.common, counted(medium.mask), noiseVariance).correlation <
    leastCorrelation - 0.08
  )
    return null
  let best: { set: TemplateSet; face: number; correlation: number } | null = null
  for (const set of leading) {
    for (let face = 0; face < FACES; face += 1) {
      const { correlation } = agreement(samples, set.face(face), counted(medium.mask), noiseVariance)
      if (best === null || correlation > best.correlation) best = { set, face, correlation }
    }
  }
  const last = refineMatch(image, medium.map, best!.set.face(best!.face), options(FACE_STEPS), room)
  if (last === null || !plausibleFrame(frameCorners(last.map))) return null
  sampleThrough(image, last.map, wide.common, samples)
  const ranked = Array.from({ length: FACES }, (_, face) => ({
    face,
    ...agreement(samples, best!.set.face(face), counted(last.mask), noiseVariance),
  })).sort((a, b) => b.correlation - a.correlation)
  const [first, second] = [ranked[0]!, ranked[1]!]
  if (first.correlation < leastCorrelation) return null
  const template = best!.set.face(first.face)
  return {
    map: last.map,
    face: first.face,
    correlation: first.correlation,
    kept: first.kept,
    sigmaModules: best!.set.sigmaModules,
    faceRatio: (1.02 - second.correlation ** 2) / (1.02 - first.correlation ** 2),
    template,
    mask: last.mask,
  }
}

// What a chart turned up to 60 degrees on any usual lens can look like. This project's convention, after trials.
const MOST_SIDE_RATIO = 1.5
const LEAST_CORNER_SINE = 0.55
const LEAST_ASPECT = 0.4
const MOST_ASPECT = 3.4

/** Whether a quad can be the frame of a chart: convex and clockwise, opposite sides and corner angles near a rectangle's, aspect in reason. */
export function plausibleFrame(quad: Quad): boolean {
  const side = (k: number): readonly [number, number] => {
    const a: Point = quad[k % 4]!
    const b: Point = quad[(k + 1) % 4]!
    return [b[0] - a[0], b[1] - a[1]]
  }
  const lengths = [0, 1, 2, 3].map((k) => Math.hypot(...side(k)))
  for (let k = 0; k < 4; k += 1) {
    const [ax, ay] = side(k)
    const [bx, by] = side(k + 1)
    const sine = (ax * by - ay * bx) / (lengths[k]! * lengths[(k + 1) % 4]!)
    if (!(sine >= LEAST_CORNER_SINE)) return false
  }
  for (const k of [0, 1]) {
    const ratio = lengths[k]! / lengths[k + 2]!
    if (!(ratio < MOST_SIDE_RATIO && ratio > 1 / MOST_SIDE_RATIO)) return false
  }
  const aspect = (lengths[0]! + lengths[2]!) / (lengths[1]! + lengths[3]!)
  return aspect > LEAST_ASPECT && aspect < MOST_ASPECT
}
