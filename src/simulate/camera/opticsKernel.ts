/**
 * What one output pixel takes of fine samples along one axis: a Gaussian of `sigmaPx` times the pixel's aperture, the exact
 * point spread of that axis. Fine samples lie `perPixel` to a pixel and are means over their own box, whose variance is
 * taken off the Gaussian. `reachPx`: whole pixels needed on each side. Weights sum to 1; index 0 is the fine sample whose
 * pixel lies `reachPx` before the output pixel.
 */
export function opticsKernel(sigmaPx: number, perPixel: number): { weights: Float64Array; reachPx: number } {
  const sigma = Math.sqrt(Math.max(0, sigmaPx ** 2 - 1 / (12 * perPixel ** 2)))
  const reachPx = sigma > 0 ? Math.ceil(5 * sigma) : 0
  const weights = new Float64Array((2 * reachPx + 1) * perPixel)
  let sum = 0
  for (let index = 0; index < weights.length; index += 1) {
    const offsetPx = (index + 0.5) / perPixel - reachPx - 0.5
    weights[index] = sigma > 0 ? gaussianOverPixel(offsetPx, sigma) : 1
    sum += weights[index]!
  }
  for (let index = 0; index < weights.length; index += 1) weights[index]! /= sum
  return { weights, reachPx }
}

/** The integral of a unit Gaussian over a pixel `offsetPx` away, by Simpson's rule on steps no longer than a sixteenth of sigma. */
function gaussianOverPixel(offsetPx: number, sigmaPx: number): number {
  const steps = 2 * Math.ceil(8 / sigmaPx + 8)
  let sum = 0
  for (let step = 0; step <= steps; step += 1) {
    const at = (offsetPx - 0.5 + step / steps) / sigmaPx
    const factor = step === 0 || step === steps ? 1 : step % 2 === 1 ? 4 : 2
    sum += factor * Math.exp(-0.5 * at * at)
  }
  return sum
}
