import { coverageFactor } from '../../math/quantiles.js'
import { edgeAtBins } from './edgeAtBins.js'
import type { EdgeSide } from './edgeSide.js'
import { jackknifeU, stepsBySegments } from './segmentScatter.js'

/** How much of a sharpening's halo an edge shows, times the step, and its standard uncertainty by the scatter between segments. */
export interface HaloSeen {
  readonly halo: number
  readonly u: number
  readonly dof: number
}

/** Levels, position and blur, as the plain fit moves them, and the halo. */
const SIZE = 5
/** A halo's radius is no part of what is asked: the one of a mask about as wide as the edge's own blur. */
const radiusFor = (sigmaPx: number): number => 1.5 * sigmaPx + 0.7

/**
 * The halo a side's pooled profile shows when levels, position and blur may move along: one Gauss-Newton step from the plain fit, its uncertainty by leaving out one segment at a
 * time, which holds what a JPEG's blocks do to an edge. Null where the segments do not determine it.
 */
export function haloSeen({ pooled, model, aperture, segments }: EdgeSide): HaloSeen | null {
  const trace = { ...model, halo: 1e-9, haloRadiusPx: radiusFor(model.sigmaPx) }
  const { all, without } = stepsBySegments(segments, edgeAtBins(pooled, trace, aperture), SIZE)
  if (all === null || without.length < 3 || without.includes(null)) return null
  const halos = without.map((step) => step![SIZE - 1]!)
  return { halo: all[SIZE - 1]!, u: jackknifeU(halos), dof: halos.length - 1 }
}

/** JPEG's blocks repeat along an edge and err alike in its segments: no side's halo is known better. This project's convention, by simulation. */
const ALIKE = 0.015
/** A halo surely over this is told. Untouched edges show 0.02 at most, mild masks (0.8 within 5 px) 0.08 and more (simulated, bench of codecs). This project's convention. */
const TOLD_HALO = 0.03
/** One that may be over this counts, as a codec takes most of a halo away: untouched stills, JPEG at a quality of 85 or not, leave 0.032 at most open (the same bench). This project's convention. */
const OPEN_HALO = 0.035
/** What a halo does to f10, relative: a mask of 0.8 over a soft edge leaves 0.1 and lifts f10 by 17 % (the same bench). */
const F10_PER_HALO = 1.7

/** What the sides of a reference together show of a sharpening. */
export interface SharpeningSeen {
  readonly isSure: boolean
  /** How far f10 may be lifted by what cannot be ruled out, relative, 95 %; 0 where that is no more than an untouched still's, or where it is sure and f10 a bound. */
  readonly liftRel: number
}

/** The sides' halos joined, each by its uncertainty; where they differ by more than that, their difference widens the interval (Birge's ratio). */
export function sharpeningSeen(sides: readonly HaloSeen[]): SharpeningSeen {
  if (sides.length === 0) return { isSure: false, liftRel: 0 }
  const weights = sides.map(({ u }) => 1 / (u ** 2 + ALIKE ** 2))
  const total = weights.reduce((sum, weight) => sum + weight, 0)
  const mean = sides.reduce((sum, { halo }, at) => sum + weights[at]! * halo, 0) / total
  const chi2 = sides.reduce((sum, { halo }, at) => sum + weights[at]! * (halo - mean) ** 2, 0)
  const widening = Math.max(1, Math.sqrt(chi2 / Math.max(1, sides.length - 1)))
  const dof = sides.reduce((sum, side) => sum + side.dof, 0)
  const U = coverageFactor(dof) * widening * Math.sqrt(1 / total)
  const isSure = mean - U > TOLD_HALO
  return { isSure, liftRel: !isSure && mean + U > OPEN_HALO ? F10_PER_HALO * (mean + U) : 0 }
}
