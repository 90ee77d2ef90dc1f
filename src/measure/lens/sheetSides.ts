import { pOfCubic } from '../../lens/cubicBend.js'
import { projectionRadius } from '../../lens/projection.js'
import { Q_AT, Q_MIDDLE } from './lensUnknowns.js'

/** One field of view of a data sheet, as an observation of the lens. */
export interface SheetSide {
  /** Half the field of view, radians, and half the side of the still it spans, px. */
  readonly halfAngleRad: number
  readonly halfSidePx: number
  /** Standard uncertainty of the half angle, radians. */
  readonly angleU: number
}

const HALF_STEP_Q = 1e-5
const HALF_STEP_RAD = 1e-5

/**
 * How far a lens misses a stated field of view, in standard uncertainties, and the slopes by the unknowns. ln F is the mean over the lights. Null
 * where the lens does not see that far.
 */
export function sheetResidual(
  { halfAngleRad, halfSidePx, angleU }: SheetSide,
  unknowns: Float64Array,
  logFAt: readonly number[],
): { readonly residual: number; readonly slopes: readonly (readonly [number, number])[] } | null {
  const q = Q_MIDDLE + unknowns[Q_AT]!
  const logRadius = (atQ: number, angleRad: number): number =>
    Math.log(projectionRadius(pOfCubic(atQ), angleRad) ?? Number.NaN)
  const here = logRadius(q, halfAngleRad)
  const perQ =
    (logRadius(q + HALF_STEP_Q, halfAngleRad) - logRadius(q - HALF_STEP_Q, halfAngleRad)) / (2 * HALF_STEP_Q)
  const perRad =
    (logRadius(q, halfAngleRad + HALF_STEP_RAD) - logRadius(q, halfAngleRad - HALF_STEP_RAD)) /
    (2 * HALF_STEP_RAD)
  // Where the image all but ends, a radius tells no angle: at least a tenth of what it does in the middle.
  const u = Math.max(perRad, 0.1 / halfAngleRad) * angleU
  if (![here, perQ, u].every(Number.isFinite)) return null
  const logF = logFAt.reduce((sum, at) => sum + unknowns[at]!, 0) / logFAt.length
  return {
    residual: (logF + here - Math.log(halfSidePx)) / u,
    slopes: [[Q_AT, perQ / u], ...logFAt.map((at) => [at, 1 / logFAt.length / u] as const)],
  }
}
