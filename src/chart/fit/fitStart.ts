import { modulePx } from '../printed/chartGeometry.js'
import { frameCorners } from '../match/chartCandidate.js'
import { APERTURE_VARIANCE, BLUR_X, BLUR_Y, INK, MODEL_PARAMETERS, PAPER } from './chartParameters.js'
import { linearFromCode } from '../../math/srgb.js'
import type { GreyImage } from '../match/greyImage.js'
import { mapPoint, type Homography } from '../../math/homography.js'

/** Start: corners of the map, blur, levels from the brightest and darkest tenths of the field. */
export function fitStart(image: GreyImage, start: Homography, blurSigmaPx?: number): Float64Array {
  const parameters = new Float64Array(MODEL_PARAMETERS)
  frameCorners(start).forEach((corner, k) => parameters.set(corner, 2 * k))
  const module = modulePx(start)
  const guess = blurSigmaPx ?? 0.35 * module
  parameters[BLUR_X] = Math.sqrt(Math.min(2, Math.max(0.5, guess)) ** 2 + APERTURE_VARIANCE)
  parameters[BLUR_Y] = parameters[BLUR_X]
  const values: number[] = []
  for (let v = 1; v <= 9; v += 0.5)
    for (let u = 1; u <= 13; u += 0.5) {
      const [i, j] = mapPoint(start, u, v).map(Math.floor) as [number, number]
      if (i >= 0 && j >= 0 && i < image.width && j < image.height)
        values.push(image.data[j * image.width + i]!)
    }
  values.sort((a, b) => a - b)
  parameters[PAPER] = linearFromCode(values[Math.floor(0.92 * values.length)] ?? 200)
  parameters[INK] = Math.min(
    linearFromCode(values[Math.floor(0.15 * values.length)] ?? 20),
    0.9 * parameters[PAPER],
  )
  return parameters
}
