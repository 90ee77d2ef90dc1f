import type { PixelRegion } from '../../still/raster.js'

/**
 * Fine samples gathered into pixels by the kernel of `opticsKernel`, first along rows, then along columns. Four values a
 * sample; `fine` covers the region widened by the kernel's reach, `perPixel` samples a pixel and axis. Four values a pixel.
 */
export function gatherPixels(
  fine: Float32Array,
  region: PixelRegion,
  kernel: { weights: Float64Array; reachPx: number },
  perPixel: number,
): Float32Array {
  const fineColumns = (region.width + 2 * kernel.reachPx) * perPixel
  const fineRows = (region.height + 2 * kernel.reachPx) * perPixel
  const across = new Float32Array(region.width * fineRows * 4)
  for (let row = 0; row < fineRows; row += 1) {
    for (let x = 0; x < region.width; x += 1) {
      collect(
        fine,
        (row * fineColumns + x * perPixel) * 4,
        4,
        kernel.weights,
        across,
        (row * region.width + x) * 4,
      )
    }
  }
  const out = new Float32Array(region.width * region.height * 4)
  for (let y = 0; y < region.height; y += 1) {
    for (let x = 0; x < region.width; x += 1) {
      const from = (y * perPixel * region.width + x) * 4
      collect(across, from, region.width * 4, kernel.weights, out, (y * region.width + x) * 4)
    }
  }
  return out
}

/** One weighted sum of four interleaved values. */
function collect(
  from: Float32Array,
  start: number,
  step: number,
  weights: Float64Array,
  to: Float32Array,
  at: number,
): void {
  let [a, b, c, d] = [0, 0, 0, 0]
  let index = start
  for (let k = 0; k < weights.length; k += 1, index += step) {
    const weight = weights[k]!
    a += weight * from[index]!
    b += weight * from[index + 1]!
    c += weight * from[index + 2]!
    d += weight * from[index + 3]!
  }
  to[at] = a
  to[at + 1] = b
  to[at + 2] = c
  to[at + 3] = d
}
