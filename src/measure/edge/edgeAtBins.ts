import { edgeModelCode, type EdgeModel } from './edgeModel.js'
import { type EdgeProfile } from './edgeProfile.js'
import type { EdgeAperture } from './edgeResponse.js'

/** A model's values at the mean distances of a profile's bins: worked out once, it serves every pixel that falls into them by first order. */
export interface EdgeAtBins {
  readonly reachPx: number
  /** Mean distance of a bin's pixels, px; NaN where it has none. */
  readonly at: Float64Array
  /** The model's code values there, and their derivatives by the six edge parameters, six a bin. */
  readonly code: Float64Array
  readonly gradient: Float64Array
}

/** A model, with its halo where it has one, at a profile's bins. */
export function edgeAtBins(profile: EdgeProfile, model: EdgeModel, aperture: EdgeAperture): EdgeAtBins {
  const bins = profile.count.length
  const edge = {
    reachPx: profile.reachPx,
    at: new Float64Array(bins).fill(NaN),
    code: new Float64Array(bins),
    gradient: new Float64Array(6 * bins),
  }
  const code = edgeModelCode(model, aperture)
  const gradient = new Float64Array(6)
  for (let bin = 0; bin < bins; bin += 1) {
    const count = profile.count[bin]!
    if (count < 0.5) continue
    const at = profile.acrossSum[bin]! / count
    edge.at[bin] = at
    edge.code[bin] = code(at, gradient)
    edge.gradient.set(gradient, 6 * bin)
  }
  return edge
}

/** The model's code value at a distance (px) that falls into `bin`, by first order. */
export function codeInBin(edge: EdgeAtBins, bin: number, distancePx: number): number {
  // Moving the edge outward is moving the place inward.
  return edge.code[bin]! - edge.gradient[6 * bin + 2]! * (distancePx - edge.at[bin]!)
}
