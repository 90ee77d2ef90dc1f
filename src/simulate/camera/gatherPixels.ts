import type { PixelRegion } from '../../still/raster.js'

/**
 * Fine samples gathered into pixels by the kernel of `opticsKernel`, first along rows, then along columns. Two or four
 * values a sample; `fine` covers the region widened by the kernel's reach, `perPixel` samples a pixel and axis. As many values a pixel.
 */
export function gatherPixels(
  fine: Float32Array,
  region: PixelRegion,
  kernel: { weights: Float64Array; reachPx: number },
  perPixel: number,
  values: 2 | 4,
): Float32Array {
  const collect = values === 2 ? collectTwo : collectFour
  const fineColumns = (region.width + 2 * kernel.reachPx) * perPixel
  const fineRows = (region.height + 2 * kernel.reachPx) * perPixel
  const across = new Float32Array(region.width * fineRows * values)
  for (let row = 0; row < fineRows; row += 1) {
    for (let x = 0; x < region.width; x += 1) {
      collect(
        fine,
        (row * fineColumns + x * perPixel) * values,
        values,
        kernel.weights,
        across,
        (row * region.width + x) * values,
      )
    }
  }
  const out = new Float32Array(region.width * region.height * values)
  for (let y = 0; y < region.height; y += 1) {
    for (let x = 0; x < region.width; x += 1) {
      const from = (y * perPixel * region.width + x) * values
      collect(across, from, region.width * values, kernel.weights, out, (y * region.width + x) * values)
    }
  }
  return out
}

/** One weighted sum of two interleaved values. */
function collectTwo(
  from: Float32Array,
  start: number,
  step: number,
  weights: Float64Array,
  to: Float32Array,
  at: number,
): void {
  let a = 0
  let b = 0
  let index = start
  for (let k = 0; k < weights.length; k += 1, index += step) {
    const weight = weights[k]!
    a += weight * from[index]!
    b += weight * from[index + 1]!
  }
  to[at] = a
  to[at + 1] = b
}

/** The same of four. */
function collectFour(
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
