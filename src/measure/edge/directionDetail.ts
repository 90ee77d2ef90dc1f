import { coverageFactor } from '../../math/quantiles.js'
import { effectiveDof, type Contribution } from '../../math/effectiveDof.js'
import type { DirectionSharpness, SharedDetail } from '../stillMeasurement.js'
import type { SideDetail } from './sideDetail.js'
import { ASSUMED_EXPONENT_U } from './toneLoad.js'

/** One direction's detail: sharpness with the 95 % expanded uncertainty of f10 (= `mtf10`), cycles/px. */
export interface DirectionDetail {
  readonly sharpness: DirectionSharpness
  /** From the scatter between edge segments and between sides alone. */
  readonly scatterU: number
  /** With the terms of the assumed tone curve and of the blur's shape. */
  readonly mtf10U: number
  /** Of these terms: see `SharedDetail`. */
  readonly shared: SharedDetail
}

/**
 * What scatter between segments cannot show, relative: JPEG blocks that repeat along an edge err alike in all of them. This project's
 * convention, sized so that the intervals cover (tests/measure/edgeFitAccuracy.test.ts).
 */
const ALIKE_REL = 0.005
/**
 * A blur that is no Gaussian (motion of 2 to 6 px, a defocus disc) makes f10 read up to 14 % too high, some 5 times the profile's misfit
 * (simulated for this project). A misfit up to 0.5 % is what JPEG leaves.
 */
const SHAPE_PER_MISFIT = 5
const FREE_MISFIT = 0.005

/**
 * Joins the sides of one direction, each by its scatter; where two disagree by more than that, their difference widens the interval (Birge's ratio). `liftRel`: how far a
 * sharpening that cannot be ruled out may have lifted f10, relative, 95 %.
 */
export function directionDetail(sides: readonly SideDetail[], liftRel: number): DirectionDetail {
  const variances = sides.map(({ f10Scatter, f10 }) => f10Scatter ** 2 + (ALIKE_REL * f10) ** 2)
  const total = variances.reduce((sum, variance) => sum + 1 / variance, 0)
  const mean = (of: (side: SideDetail) => number): number =>
    sides.reduce((sum, side, i) => sum + of(side) / variances[i]!, 0) / total
  const f10 = mean((side) => side.f10)
  const chi2 = sides.reduce((sum, side, i) => sum + (side.f10 - f10) ** 2 / variances[i]!, 0)
  const widening = sides.length > 1 ? Math.max(1, Math.sqrt(chi2 / (sides.length - 1))) : 1
  const parts: Contribution[] = sides.flatMap((side, i) => [
    { u: (side.f10Scatter / variances[i]! / total) * widening, dof: side.dof },
    { u: ((ALIKE_REL * side.f10) / variances[i]! / total) * widening, dof: Infinity },
  ])
  const expanded = (all: readonly Contribution[]): number =>
    coverageFactor(effectiveDof(all)) * Math.sqrt(all.reduce((sum, { u }) => sum + u * u, 0))
  const toneLoad = mean((side) => side.toneLoad)
  const ofMisfit = SHAPE_PER_MISFIT * Math.max(0, mean(({ misfit }) => misfit) - FREE_MISFIT)
  const shapeRel = Math.hypot(ofMisfit, liftRel / 2)
  const shared = [toneLoad * ASSUMED_EXPONENT_U, shapeRel].map((rel) => ({ u: rel * f10, dof: Infinity }))
  return {
    sharpness: { mtf50: mean((side) => side.f50), mtf10: f10, overshoot: mean((side) => side.overshoot) },
    scatterU: expanded(parts),
    mtf10U: expanded([...parts, ...shared]),
    shared: { toneLoad, shapeRel },
  }
}
