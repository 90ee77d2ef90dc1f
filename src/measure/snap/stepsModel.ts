import { levenbergMarquardt } from '../../math/levenbergMarquardt.js'
import { failure, success, type Outcome } from '../../math/outcome.js'
import type { EdgeProfile } from '../edge/edgeProfile.js'
import { edgeResponse, type EdgeAperture, type EdgeResponse } from '../edge/edgeResponse.js'
import { codeFromLinear, codeSlope } from '../../math/srgb.js'
import { measureSays } from '../sentences.js'

/** Even grounds side by side, from inside to outside, each of its own linear light, blurred by one Gaussian: a border inside an outline, or a bumper beyond it. */
export interface StepsModel {
  /** One more than there are edges. */
  readonly levels: readonly number[]
  /** Where the edges lie, px, outward positive, from inside to outside. */
  readonly edgesPx: readonly number[]
  readonly sigmaPx: number
}

/** A fit, and the sum of squared residuals it leaves: code values squared, each pixel counted. */
export interface StepsFit {
  readonly model: StepsModel
  readonly squares: number
  readonly bins: number
  /** Variance of each edge's place for pixels of unit noise, px^2 per code value squared. */
  readonly placeVariance: readonly number[]
}

/** What is known of a fit's parameters (the levels' logarithms, the edges, the blur's logarithm) beforehand: that their sum, weighted by `by`, is `value`. */
export interface KnownOfSteps {
  readonly by: readonly number[]
  readonly value: number
  /** One standard deviation, over that of a pixel's noise in code values. */
  readonly sd: number
}

const LEAST_LEVEL = 1e-5

/** The model's code value at a distance, px; where `gradient` is handed in, its derivatives by levels' logarithms, edges and the blur's logarithm. */
export function stepsCode(
  model: StepsModel,
  aperture: EdgeAperture,
): (distancePx: number, gradient?: Float64Array) => number {
  const { levels, edgesPx, sigmaPx } = model
  const edges = edgesPx.length
  const responses: EdgeResponse[] = edgesPx.map(() => ({ value: 0, byDistance: 0, bySigma: 0 }))
  return (distancePx, gradient) => {
    let linear = levels[0]!
    for (let k = 0; k < edges; k += 1) {
      edgeResponse(distancePx - edgesPx[k]!, sigmaPx, aperture, responses[k]!)
      linear += (levels[k + 1]! - levels[k]!) * responses[k]!.value
    }
    linear = Math.max(0, linear)
    const code = codeFromLinear(linear)
    if (gradient !== undefined) {
      const slope = codeSlope(linear, code)
      let bySigma = 0
      for (let k = 0; k <= edges; k += 1) {
        const inner = k === 0 ? 1 : responses[k - 1]!.value
        const outer = k === edges ? 0 : responses[k]!.value
        gradient[k] = levels[k]! * slope * (inner - outer)
      }
      for (let k = 0; k < edges; k += 1) {
        const step = levels[k + 1]! - levels[k]!
        gradient[edges + 1 + k] = -slope * step * responses[k]!.byDistance
        bySigma += step * responses[k]!.bySigma
      }
      gradient[2 * edges + 1] = sigmaPx * slope * bySigma
    }
    return code
  }
}

/** Fits the model to a profile between two distances (px), in code values, each bin by its pixels, with what is known beforehand. Fails as the solver does. */
export function fitSteps(
  profile: EdgeProfile,
  start: StepsModel,
  aperture: EdgeAperture,
  fromPx: number,
  toPx: number,
  known: readonly KnownOfSteps[] = [],
): Outcome<StepsFit> {
  const filled = [...profile.count.keys()].filter((bin) => {
    const at = profile.acrossSum[bin]! / profile.count[bin]!
    return profile.count[bin]! > 0.5 && at >= fromPx && at <= toPx
  })
  const edges = start.edgesPx.length
  const size = 2 * edges + 2
  if (filled.length + known.length < size + 2) return failure(measureSays['strip-too-narrow']())
  const gradient = new Float64Array(size)
  const modelAt = (parameters: Float64Array): StepsModel => ({
    levels: [...parameters.subarray(0, edges + 1)].map(Math.exp),
    edgesPx: [...parameters.subarray(edges + 1, 2 * edges + 1)],
    sigmaPx: Math.exp(parameters[2 * edges + 1]!),
  })
  const fit = levenbergMarquardt({
    start: [
      ...start.levels.map((level) => Math.log(Math.max(LEAST_LEVEL, level))),
      ...start.edgesPx,
      Math.log(start.sigmaPx),
    ],
    residualCount: filled.length + known.length,
    tolerance: 1e-4,
    maxIterations: 80,
    residuals: (parameters, out) => {
      const code = stepsCode(modelAt(parameters), aperture)
      for (const [i, bin] of filled.entries()) {
        const count = profile.count[bin]!
        out[i] = Math.sqrt(count) * (code(profile.acrossSum[bin]! / count) - profile.codeSum[bin]! / count)
      }
      for (const [i, { by, value, sd }] of known.entries())
        out[filled.length + i] = (by.reduce((sum, one, j) => sum + one * parameters[j]!, 0) - value) / sd
    },
    jacobian: (parameters, out) => {
      const code = stepsCode(modelAt(parameters), aperture)
      for (const [i, bin] of filled.entries()) {
        const count = profile.count[bin]!
        code(profile.acrossSum[bin]! / count, gradient)
        for (let j = 0; j < size; j += 1) out[i * size + j] = Math.sqrt(count) * gradient[j]!
      }
      for (const [i, { by, sd }] of known.entries())
        for (let j = 0; j < size; j += 1) out[(filled.length + i) * size + j] = by[j]! / sd
    },
  })
  if (!fit.ok) return fit
  return success({
    model: modelAt(Float64Array.from(fit.value.parameters)),
    squares: fit.value.residualSum,
    bins: filled.length,
    placeVariance: start.edgesPx.map((_, k) => fit.value.covariance[edges + 1 + k]![edges + 1 + k]!),
  })
}
