import { decide } from '../gradings/decide.js'
import type { MarkMeasurement } from './markMeasurement.js'

/**
 * Whether a reference held turned is what keeps a mark from a limit (px/m): it fails as held and would reach it square to the ray.
 * Only where the pose is known, which takes a lens. `share` is the share of pixels with detail where that is what counts.
 */
export function isTurned(
  mark: MarkMeasurement,
  density: { readonly low: number; readonly high: number },
  limit: number,
  share = 1,
): boolean {
  if (mark.turnDeg === null || mark.facing === null) return false
  return decide(density, limit) === 'not met' && mark.facing * share >= limit
}
