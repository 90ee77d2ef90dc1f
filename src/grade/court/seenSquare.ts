import { dot } from '../../math/normalEquations.js'
import type { FittedMark } from '../range/rangeFit.js'
import { stillAngleRad } from '../marks/markDirection.js'
import { centredDensity, commonLoads } from '../marks/commonDraws.js'
import { cornerShape, shapeSlopes } from './cornerShape.js'

/** A sine with its standard uncertainty. */
export interface Lean {
  readonly sine: number
  readonly u: number
}

/** How a mark's reference is seen: its two axes against each other, and how it leans by the perspective of its corners. */
export interface SeenSquare {
  /** ln of the density across over the one upright. */
  readonly rho: number
  /** Cosine of the angle between its axes in the picture. */
  readonly kappa: number
  /** How rho answers to the draws that all marks share, one standard deviation up. */
  readonly rhoLoads: readonly number[]
  /** Corner noise: covariance of ln density along the axis used, rho, kappa. */
  readonly covariance: readonly (readonly number[])[]
  /** Sines of its turn about the upright axis and about the level one, by how the picture's scale grows over it. */
  readonly across: Lean
  readonly down: Lean
  /** Angle between its middle and the picture's, radians. */
  readonly offAxisRad: number
}

/**
 * How the reference of a mark is seen; null for a length, which has one axis. The noise per axis is the mark's own; how it moves both axes and the angle between
 * them together is that of corners that err alike each, which those clicked by hand do.
 */
export function seenSquare({ mark, used, point }: FittedMark): SeenSquare | null {
  const { horizontal, vertical } = mark.axes
  const corners = mark.stills
    .map(({ measurement }) => measurement.corners)
    .filter(({ length }) => length === 4)
  if (horizontal === null || vertical === null || corners.length === 0) return null
  const shapes = corners.map(cornerShape)
  const mean = (of: 'kappa' | 'growsAcross' | 'growsDown' | 'logWide' | 'logHigh'): number =>
    shapes.reduce((sum, shape) => sum + shape[of], 0) / shapes.length
  const slopes = shapeSlopes(corners[0]!)
  const acrossPx = horizontal.cornersRel / Math.hypot(...slopes.logWide)
  const downPx = vertical.cornersRel / Math.hypot(...slopes.logHigh)
  const noisePx = Math.hypot(acrossPx, downPx) / Math.SQRT2
  const wide = slopes.logWide.map((slope) => slope * acrossPx)
  const high = slopes.logHigh.map((slope) => slope * downPx)
  const rows = [
    used === 'horizontal' ? wide : high,
    wide.map((each, i) => each - high[i]!),
    slopes.kappa.map((slope) => slope * noisePx),
  ]
  // Off the axis a picture leans by itself, as its lens has it.
  const offAxisRad = stillAngleRad(mark, point.densityPxPerM * point.distanceM)
  const upright = commonLoads(vertical, 'vertical')
  const lean = (grows: 'growsAcross' | 'growsDown', sizeM: number): Lean => {
    const perShare = mark.lineOfSightM / sizeM
    const own = noisePx * perShare * Math.hypot(...slopes[grows])
    return { sine: mean(grows) * perShare, u: Math.hypot(own, offAxisRad) }
  }
  return {
    rho: Math.log(centredDensity(horizontal) / centredDensity(vertical)),
    kappa: mean('kappa'),
    offAxisRad,
    rhoLoads: commonLoads(horizontal, 'horizontal').map((load, draw) => load - upright[draw]!),
    covariance: rows.map((a) => rows.map((b) => dot(a, b))),
    across: lean('growsAcross', Math.exp(mean('logWide')) / horizontal.densityPxPerM),
    down: lean('growsDown', Math.exp(mean('logHigh')) / vertical.densityPxPerM),
  }
}
