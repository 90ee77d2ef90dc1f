import { levenbergMarquardt } from '../math/levenbergMarquardt.js'
import type { Outcome } from '../math/outcome.js'
import { success } from '../math/outcome.js'
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
): Outcome<ProfileFit> {
  const bins = [...profile.count.keys()].filter((bin) => profile.count[bin]! > 0.5)
  const weights = bins.map((bin) => Math.sqrt(profile.count[bin]!))
  const at = bins.map((bin) => profile.acrossSum[bin]! / profile.count[bin]!)
  const codes = bins.map((bin) => profile.codeSum[bin]! / profile.count[bin]!)
  const gradient = new Float64Array(6)
  const withHalo = free === 'edge and halo' || start.halo !== 0
  const fit = levenbergMarquardt({
    start: edgeParameters(start),
    residualCount: bins.length,
    fixed: HELD[free],
    tolerance: 1e-3,
    maxIterations: 60,
    residuals: (parameters, out) => {
      const code = edgeModelCode(edgeModelOf(parameters), aperture, withHalo)
      for (let i = 0; i < bins.length; i += 1) out[i] = weights[i]! * (code(at[i]!) - codes[i]!)
    },
    jacobian: (parameters, out) => {
      const code = edgeModelCode(edgeModelOf(parameters), aperture, withHalo)
      for (let i = 0; i < bins.length; i += 1) {
        code(at[i]!, gradient)
        for (let j = 0; j < 6; j += 1) out[i * 6 + j] = weights[i]! * gradient[j]!
      }
    },
  })
  if (!fit.ok) return fit
  return success({ model: edgeModelOf(fit.value.parameters), squares: fit.value.residualSum })
}
