import { edgeResponse, type EdgeAperture, type EdgeResponse } from './edgeResponse.js'
import { codeFromLinear, codeSlope } from '../../math/srgb.js'

/**
 * An edge as it was drawn into the still: linear light inside and outside, position across (px, outward positive), Gaussian blur (px), and the
 * halo of a sharpening: `halo` times the step in code values, times the difference between the edge and itself blurred by `haloRadiusPx` more.
 */
export interface EdgeModel {
  readonly inside: number
  readonly outside: number
  readonly acrossPx: number
  readonly sigmaPx: number
  readonly halo: number
  readonly haloRadiusPx: number
}

/** The model as the fit moves it: logarithms keep light, blur and radius positive. */
export function edgeParameters(model: EdgeModel): number[] {
  const { inside, outside, acrossPx, sigmaPx, halo, haloRadiusPx } = model
  return [Math.log(inside), Math.log(outside), acrossPx, Math.log(sigmaPx), halo, Math.log(haloRadiusPx)]
}

/** The model of a set of {@link edgeParameters}. */
export function edgeModelOf(parameters: ArrayLike<number>): EdgeModel {
  return {
    inside: Math.exp(parameters[0]!),
    outside: Math.exp(parameters[1]!),
    acrossPx: parameters[2]!,
    sigmaPx: Math.exp(parameters[3]!),
    halo: parameters[4]!,
    haloRadiusPx: Math.exp(parameters[5]!),
  }
}

/**
 * A function of the distance across the edge (px) that gives the model's code value there and, where `gradient` is handed in, writes its
 * derivatives by the six {@link edgeParameters} (by the first four unless `withHalo`). The light mixes linearly; the halo is added in code
 * values, where cameras sharpen.
 */
export function edgeModelCode(
  model: EdgeModel,
  aperture: EdgeAperture,
  withHalo = model.halo !== 0,
): (distancePx: number, gradient?: Float64Array) => number {
  const sharp: EdgeResponse = { value: 0, byDistance: 0, bySigma: 0 }
  const soft: EdgeResponse = { value: 0, byDistance: 0, bySigma: 0 }
  const { inside, outside, sigmaPx, halo } = model
  const span = outside - inside
  const [insideCode, outsideCode] = [codeFromLinear(inside), codeFromLinear(outside)]
  const step = outsideCode - insideCode
  const insideSlope = codeSlope(inside, insideCode)
  const outsideSlope = codeSlope(outside, outsideCode)
  const softSigma = Math.hypot(sigmaPx, model.haloRadiusPx)
  return (distancePx, gradient) => {
    const at = distancePx - model.acrossPx
    edgeResponse(at, sigmaPx, aperture, sharp)
    const linear = Math.max(0, inside + span * sharp.value)
    const code = codeFromLinear(linear)
    if (gradient !== undefined) {
      const slope = codeSlope(linear, code)
      gradient[0] = inside * slope * (1 - sharp.value)
      gradient[1] = outside * slope * sharp.value
      gradient[2] = -slope * span * sharp.byDistance
      gradient[3] = sigmaPx * slope * span * sharp.bySigma
    }
    if (!withHalo) return code
    edgeResponse(at, softSigma, aperture, soft)
    const lift = sharp.value - soft.value
    if (gradient !== undefined) {
      gradient[0]! -= inside * halo * lift * insideSlope
      gradient[1]! += outside * halo * lift * outsideSlope
      gradient[2]! -= halo * step * (sharp.byDistance - soft.byDistance)
      gradient[3]! += sigmaPx * halo * step * (sharp.bySigma - (soft.bySigma * sigmaPx) / softSigma)
      gradient[4] = step * lift
      gradient[5] = (-halo * step * soft.bySigma * model.haloRadiusPx ** 2) / softSigma
    }
    return code + halo * step * lift
  }
}
