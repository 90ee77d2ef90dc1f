import { describe, expect, it } from 'vitest'
import { codeFromLinear, codeSlope, linearFromCode } from '../../src/math/srgb.js'
import { expectNear } from '../nearly.js'

// IEC 61966-2-1:1999 with its constants 0.04045, 12.92, 1.055, 0.055, 2.4; pairs worked out from its formula in double precision.
const DECODED: readonly (readonly [code: number, linear: number])[] = [
  [0, 0],
  [1, 0.000303527],
  [10, 0.00303527],
  [11, 0.003346536],
  [32, 0.014443844],
  [64, 0.051269458],
  [118, 0.181164244],
  [128, 0.2158605],
  [188, 0.502886458],
  [200, 0.57758044],
  [255, 1],
]
const ENCODED: readonly (readonly [linear: number, encoded: number])[] = [
  [0.01, 0.0998528],
  [0.05, 0.2478005],
  [0.18, 0.4613561],
  [0.2, 0.4845292],
  [0.5, 0.735357],
  [0.9, 0.9546872],
]

describe('the sRGB transfer of IEC 61966-2-1', () => {
  it.each(DECODED)('decodes code value %d', (code, linear) => {
    expectNear(linearFromCode(code), linear, { abs: 6e-10 }, 'nine printed decimals')
  })

  it.each(ENCODED)('encodes linear light %d', (linear, encoded) => {
    expectNear(codeFromLinear(linear) / 255, encoded, { abs: 6e-8 }, 'seven printed decimals')
  })

  it('has the slope its own values have', () => {
    for (const linear of [0.001, 0.002, 0.01, 0.2, 0.9]) {
      const step = linear * 1e-5
      const slope = (codeFromLinear(linear + step) - codeFromLinear(linear - step)) / (2 * step)
      expectNear(codeSlope(linear), slope, { rel: 1e-7 }, 'central difference')
    }
  })

  it('reads a Michelson contrast in linear light, not in code values', () => {
    // Codes 200 and 100: (0.577580 - 0.127438) / (0.577580 + 0.127438); in code values it would be 1/3.
    const [bright, dim] = [linearFromCode(200), linearFromCode(100)]
    expectNear((bright - dim) / (bright + dim), 0.638484, { abs: 5e-7 }, 'six printed decimals')
    expect((200 - 100) / (200 + 100)).toBeLessThan(0.34)
  })
})
