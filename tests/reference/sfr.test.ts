import { describe, it } from 'vitest'
import { frequencyAtModulation, gaussianPixelMtf } from '../../src/measure/edge/gaussianPixelMtf.js'
import { edgeAperture, edgeResponse, type EdgeResponse } from '../../src/measure/edge/edgeResponse.js'
import { normalIntegral } from '../../src/math/normalIntegral.js'
import { expectNear } from '../nearly.js'

// Analytic truths: textbook Fourier pairs (J. W. Goodman, Introduction to Fourier Optics), a Gaussian times a square pixel, worked out in double precision.
const PIXEL_TIMES_GAUSSIAN: readonly (readonly [sigma: number, f50: number, f10: number, atHalf: number])[] =
  [
    [0.3, 0.442338, 0.76367, 0.408316],
    [0.5, 0.323088, 0.581282, 0.185392],
    [0.7, 0.247107, 0.448593, 0.05672],
    [1.0, 0.179964, 0.327665, 0.004578],
  ]

/** The response of a pixel to an edge by brute force: the mean of the normal integral over 400 x 400 places of its square. */
function bruteResponse(distance: number, sigma: number, angle: number): number {
  let sum = 0
  const n = 400
  for (let i = 0; i < n; i += 1) {
    for (let j = 0; j < n; j += 1) {
      const [x, y] = [(i + 0.5) / n - 0.5, (j + 0.5) / n - 0.5]
      sum += normalIntegral((distance + x * Math.cos(angle) + y * Math.sin(angle)) / sigma)
    }
  }
  return sum / n / n
}

describe('a Gaussian blur through a square pixel', () => {
  it.each(PIXEL_TIMES_GAUSSIAN)('of sigma %d px has these 50 and 10 % points', (sigma, f50, f10, atHalf) => {
    expectNear(frequencyAtModulation(0.5, sigma), f50, { abs: 6e-7 }, 'six printed decimals')
    expectNear(frequencyAtModulation(0.1, sigma), f10, { abs: 6e-7 }, 'six printed decimals')
    expectNear(gaussianPixelMtf(0.5, sigma), atHalf, { abs: 6e-7 }, 'six printed decimals')
  })

  it('is the pixel alone without blur', () => {
    expectNear(gaussianPixelMtf(0.1, 0), 0.983632, { abs: 6e-7 }, 'sinc 0.1')
    expectNear(gaussianPixelMtf(0.25, 0), 0.900316, { abs: 6e-7 }, 'sinc 0.25')
    expectNear(frequencyAtModulation(0.5, 0), 0.603355, { abs: 6e-7 }, 'sinc f = 0.5')
    expectNear(frequencyAtModulation(0.1, 0), 0.907929, { abs: 6e-7 }, 'sinc f = 0.1')
  })

  it.each([0, 3, 8, 12, 30, 45])('responds to an edge turned by %d degrees as its square says', (degrees) => {
    const angle = (degrees * Math.PI) / 180
    const aperture = edgeAperture(Math.cos(angle), Math.sin(angle))
    const response: EdgeResponse = { value: 0, byDistance: 0, bySigma: 0 }
    const nearby: EdgeResponse = { value: 0, byDistance: 0, bySigma: 0 }
    for (const sigma of [0.3, 0.7, 2]) {
      for (const distance of [-2.1, -0.4, 0, 0.7, 1.5]) {
        edgeResponse(distance, sigma, aperture, response)
        expectNear(response.value, bruteResponse(distance, sigma, angle), { abs: 1e-5 }, 'brute force')
        edgeResponse(distance + 1e-3, sigma, aperture, nearby)
        const ahead = nearby.value
        edgeResponse(distance - 1e-3, sigma, aperture, nearby)
        expectNear(response.byDistance, (ahead - nearby.value) / 2e-3, { abs: 2e-3 }, 'difference')
        edgeResponse(distance, sigma * 1.002, aperture, nearby)
        const wider = nearby.value
        edgeResponse(distance, sigma * 0.998, aperture, nearby)
        expectNear(response.bySigma, (wider - nearby.value) / (0.004 * sigma), { abs: 2e-3 }, 'difference')
      }
    }
  })
})
