import { describe, it } from 'vitest'
import { normalIntegral } from '../../src/math/normalIntegral.js'
import { edgeSpectrum, firstCrossing } from '../../src/measure/chart/edgeSpectrum.js'
import { expectNear } from '../nearly.js'

// Analytic truths of the edge spread, textbook Fourier pairs: a square pixel along its axis has |sinc f| (50 % at 0.603355 cycles/px), a
// Gaussian exp(-2 pi^2 s^2 f^2) (50 % at 0.187391/s, 10 % at 0.341541/s), both together s = 1: 0.179964, 0.327665; s = 0.5: 0.323088, 0.581282.

/** Means over quarter-pixel bins of a Gaussian edge seen through a square pixel, the edge in the middle of `halfPx` to each side. */
function gaussianEdge(sigma: number, pixelPx: number, halfPx: number): Float64Array {
  return Float64Array.from({ length: 8 * halfPx }, (_, bin) => {
    let sum = 0
    const steps = 64
    for (let i = 0; i < steps; i += 1)
      for (let j = 0; j < steps; j += 1) {
        const at = (bin + (i + 0.5) / steps) / 4 - halfPx + pixelPx * ((j + 0.5) / steps - 0.5)
        sum += sigma > 0 ? normalIntegral(at / sigma) : at > 0 ? 1 : 0
      }
    return sum / steps ** 2
  })
}

describe("the chart's edge spectrum against analytic truths", () => {
  const cases = [
    [1, 1, 0.179964, 0.327665],
    [0.5, 1, 0.323088, 0.581282],
    [0.7, 1, 0.247107, 0.448593],
    [1, 0, 0.187391, 0.341541],
    [1.5, 0, 0.187391 / 1.5, 0.341541 / 1.5],
  ] as const
  for (const [sigma, pixel, mtf50, mtf10] of cases)
    it(`reads MTF50 and MTF10 of a Gaussian of ${sigma} px${pixel === 0 ? '' : ' seen through a square pixel'} within 1 %`, () => {
      const curve = edgeSpectrum(gaussianEdge(sigma, pixel, 10))
      expectNear(firstCrossing(curve, 0.5)!, mtf50, { rel: 0.01 })
      expectNear(firstCrossing(curve, 0.1)!, mtf10, { rel: 0.01 })
    })

  it('stays within 2 % where half the window holds four blurs, and no better is claimed', () => {
    const sigma = 1.5
    const curve = edgeSpectrum(gaussianEdge(sigma, 0, 6))
    expectNear(firstCrossing(curve, 0.5)!, 0.187391 / sigma, { rel: 0.02 })
  })
})
