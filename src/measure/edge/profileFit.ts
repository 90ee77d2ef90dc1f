import { levenbergMarquardt } from '../../math/levenbergMarquardt.js'
import type { Outcome } from '../../math/outcome.js'
import { success } from '../../math/outcome.js'
import { edgeModelCode, edgeModelOf, edgeParameters, type EdgeModel } from './edgeModel.js'
import type { EdgeAperture } from './edgeResponse.js'
import type { EdgeProfile } from './edgeProfile.js'

/** An edge fitted to a profile, and the sum of squared residuals it leaves: code values squared, each pixel counted. */
export interface ProfileFit {
  readonly model: EdgeModel
  readonly squares: number
}

/** Which of the model's parameters move: levels, position and blur; the same and the halo; or levels and position alone. */
export type FreeParameters = 'edge' | 'edge and halo' | 'levels'

const HELD: Readonly<Record<FreeParameters, readonly boolean[]>> = {
  edge: [false, false, false, false, true, true],
  'edge and halo': [false, false, false, false, false, false],
  levels: [false, false, false, true, true, true],
}

/**
 * Fits an edge to a profile in code values, where camera noise and JPEG errors are even; the light mixes linearly in the model.
 * Each bin counts by its pixels, at the mean of their distances. Fails as the solver does.
 */
export function fitProfile(
  profile: EdgeProfile,
  start: EdgeModel,
  aperture: EdgeAperture,
  free: FreeParameters,
  tolerance = 1e-3,
): Outcome<ProfileFit> {
  const filled: number[] = []
  for (let bin = 0; bin < profile.count.length; bin += 1) if (profile.count[bin]! > 0.5) filled.push(bin)
  const weights = new Float64Array(filled.length)
  const at = new Float64Array(filled.length)
  const codes = new Float64Array(filled.length)
  for (let i = 0; i < filled.length; i += 1) {
    const count = profile.count[filled[i]!]!
    weights[i] = Math.sqrt(count)
    at[i] = profile.acrossSum[filled[i]!]! / count
    codes[i] = profile.codeSum[filled[i]!]! / count
  }
  const gradient = new Float64Array(6)
  const slopes = new Float64Array(6 * filled.length)
  const slopesAt = new Float64Array(6).fill(NaN)
  const withHalo = free === 'edge and halo' || start.halo !== 0
  const residuals = (parameters: Float64Array, out: Float64Array): void => {
    const code = edgeModelCode(edgeModelOf(parameters), aperture, withHalo)
    for (let i = 0; i < out.length; i += 1) {
      const weight = weights[i]!
      out[i] = weight * (code(at[i]!, gradient) - codes[i]!)
      for (let j = 0; j < 6; j += 1) slopes[6 * i + j] = weight * gradient[j]!
    }
    slopesAt.set(parameters)
  }
  const spare = new Float64Array(filled.length)
  const fit = levenbergMarquardt({
    start: edgeParameters(start),
    residualCount: filled.length,
    fixed: HELD[free],
    tolerance,
    maxIterations: 60,
    residuals,
    // The slopes come along with the residuals: where the solver asks for them it has mostly just been there.
    jacobian: (parameters, out) => {
      if (!parameters.every((parameter, j) => parameter === slopesAt[j])) residuals(parameters, spare)
      out.set(slopes)
    },
  })
  if (!fit.ok) return fit
  return success({ model: edgeModelOf(fit.value.parameters), squares: fit.value.residualSum })
}
