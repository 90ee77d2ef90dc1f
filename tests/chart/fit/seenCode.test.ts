import { describe, expect, it } from 'vitest'
import { seenCode } from '../../../src/chart/fit/seenCode.js'
import { normalDensity } from '../../../src/math/normalIntegral.js'
import { codeFromLinear } from '../../../src/math/srgb.js'
import { expectNear } from '../../nearly.js'

/** The mean of a clipped noisy code by summing over the noise. */
function meanCode(light: number, noiseDn: number): number {
  const code = codeFromLinear(light)
  let sum = 0
  for (let z = -8; z < 8; z += 1e-3)
    sum += 1e-3 * normalDensity(z + 5e-4) * Math.min(255, Math.max(0, code + noiseDn * (z + 5e-4)))
  return sum
}

describe('the mean code value of noise that is clipped', () => {
  const out = { code: 0, slope: 0 }
  for (const [light, noiseDn] of [
    [0.001, 12],
    [-0.002, 6],
    [0.2, 12],
    [0.97, 9],
    [1.1, 4],
  ] as const)
    it(`is the mean over the noise at light ${light} and ${noiseDn} code values, and so is its slope`, () => {
      seenCode(light, noiseDn, out)
      expectNear(out.code, meanCode(light, noiseDn), { abs: 0.01 })
      const { slope } = out
      const step = 1e-5
      expectNear(slope, (meanCode(light + step, noiseDn) - meanCode(light - step, noiseDn)) / (2 * step), {
        rel: 2e-3,
      })
    })

  it('never leaves the scale', () => {
    for (const light of [-5, -0.1, 2, 50]) {
      seenCode(light, 0.5, out)
      expect(out.code).toBeGreaterThanOrEqual(-1e-6)
      expect(out.code).toBeLessThanOrEqual(255 + 1e-6)
    }
  })
})
