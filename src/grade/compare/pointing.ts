import type { Pointing, SharedMark } from './comparison.js'
import { normalQuantile } from '../../math/quantiles.js'
import { markDirection } from '../marks/markDirection.js'

// How people carry: one walk higher than another by so much throughout, and up and down from mark to mark, metres, one standard deviation. This
// project's convention.
const CARRIED_HIGHER_M = 0.15
const CARRIED_UNEVENLY_M = 0.06

/**
 * Whether the camera was tilted between the walks: what is carried at the same marks stands higher or lower in the picture, by the same angle at all of
 * them, and not by an angle that falls with distance, as it does for who carries it higher. Only up and down: sideways, a line of marks may
 * have been laid elsewhere. Null under three marks.
 */
export function pointing(shared: readonly SharedMark[], chance: number): Pointing | null {
  if (shared.length < 3) return null
  // angle = tilt + height / distance, the height with a prior; solved about that prior by weighted least squares.
  let [w, ws, wss, wy, wsy] = [0, 0, 1 / CARRIED_HIGHER_M ** 2, 0, 0]
  for (const { pair } of shared) {
    const { lineOfSightM } = pair.before
    const weight = (lineOfSightM / (CARRIED_UNEVENLY_M * Math.SQRT2)) ** 2
    const slope = 1 / lineOfSightM
    // Seen lower in the picture after: the camera looks higher, or it was carried lower.
    const angle = markDirection(pair.before).downRad - markDirection(pair.after).downRad
    w += weight
    ws += weight * slope
    wss += weight * slope * slope
    wy += weight * angle
    wsy += weight * slope * angle
  }
  const determinant = w * wss - ws * ws
  const downRad = (wss * wy - ws * wsy) / determinant
  const u = Math.sqrt(wss / determinant)
  const significant = Math.abs(downRad) > normalQuantile(1 - chance / 2) * u
  return { downRad, low: downRad - 2 * u, high: downRad + 2 * u, significant }
}
