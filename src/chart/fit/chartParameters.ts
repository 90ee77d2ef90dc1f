import type { Quad } from '../../math/point.js'
import { FRAME } from '../printed/chartGeometry.js'
import { boxTo, type Homography } from '../../math/homography.js'

// Parameters of the modelled chart, in this order: the frame's corners x1, y1 ... y4 (px), the blur across upright and across level edges with
// the pixel's aperture in it (px), the edge shift (px), paper and ink (linear light), the light's slopes, and how much lighter than paper the
// surround is beyond the sheet's top, right, bottom and left side (linear light), and the halo of a sharpening: so many times the difference
// between the picture and itself blurred by some more, added in code values.
export const MODEL_PARAMETERS = 20
export const BLUR_X = 8
export const BLUR_Y = 9
export const SHIFT = 10
export const PAPER = 11
export const INK = 12
export const SLOPE_X = 13
export const SLOPE_Y = 14
export const SURROUND = 15
export const HALO = 19

/** Variance of a square pixel's aperture, px^2. */
export const APERTURE_VARIANCE = 1 / 12

/** The frame's corners out of a parameter vector. */
export function modelCorners(parameters: Float64Array): Quad {
  const at = (k: number): readonly [number, number] => [parameters[2 * k]!, parameters[2 * k + 1]!]
  return [at(0), at(1), at(2), at(3)]
}

/** The map, modules to px, of a parameter vector. */
export function modelMap(parameters: Float64Array): Homography {
  return boxTo(FRAME, modelCorners(parameters))
}

/** One blur for both directions, px: the root of their mean square. */
export function meanBlur(parameters: Float64Array): number {
  return Math.sqrt((parameters[BLUR_X]! ** 2 + parameters[BLUR_Y]! ** 2) / 2)
}
