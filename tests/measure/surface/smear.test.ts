import { expect, it } from 'vitest'
import { smear } from '../../../src/measure/surface/smear.js'
import type { Sharpness } from '../../../src/measure/stillMeasurement.js'
import { gaussianPixelCrossing } from '../../../src/simulate/camera/gaussianPixelResponse.js'

/** Sharpness of a Gaussian of 0.8 px, smeared along rows and columns by so many px: an even smear of length L has a variance of L^2 / 12 (textbook). */
function seen(acrossPx: number, alongPx: number, f10OwnU: number): Sharpness {
  const direction = (smearPx: number) => ({
    mtf50: gaussianPixelCrossing(Math.hypot(0.8, smearPx / Math.sqrt(12)), 0.5),
    mtf10: gaussianPixelCrossing(Math.hypot(0.8, smearPx / Math.sqrt(12)), 0.1),
    overshoot: 0,
  })
  return {
    method: 'fit',
    horizontal: direction(acrossPx),
    vertical: direction(alongPx),
    factor: 1,
    factorU: 0,
    f10OwnU,
  }
}

it('tells how long the smear is and which way it runs', () => {
  expect(smear(seen(4, 0, 0.01))?.message).toMatch(/^smeared sideways by about 4\.0 px /)
  expect(smear(seen(0, 2.5, 0.01))?.message).toMatch(/^smeared up and down by about 2\.5 px /)
  expect(smear(seen(4, 0, 0.01))?.code).toBe('moving')
})

it.each([
  ['both ways are blurred alike', seen(4, 4, 0.01)],
  ['it is short', seen(1.2, 0, 0.001)],
  ['f10 is not known well enough', seen(4, 0, 0.1)],
])('tells nothing where %s', (_, sharpness) => {
  expect(smear(sharpness)).toBeNull()
})
