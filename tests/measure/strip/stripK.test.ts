import { describe, expect, it } from 'vitest'
import { matchedK } from '../../../src/measure/strip/stripK.js'
import { expectNear } from '../../nearly.js'

const WHITE = { variance: 0.03 ** 2, along: [1], across: [1] }
const SHARP = [1, 1, 1, 1, 1, 1, 1]

describe('k as a matched filter', () => {
  // Source: A. Rose, J. Opt. Soc. Am. 38 (1948) 196: contrast times the square root of the area over the noise of a pixel.
  it("is Rose's in white noise without blur", () => {
    // What of a square lies beyond Nyquist is not in the picture: 10 % of one of 2 px, per direction.
    expectNear(matchedK(0.1, { alongPx: 20, acrossPx: 20 }, SHARP, WHITE), (0.1 * 20) / 0.03, { rel: 0.02 })
    expectNear(matchedK(0.1, { alongPx: 12, acrossPx: 6 }, SHARP, WHITE), (0.1 * Math.sqrt(72)) / 0.03, {
      rel: 0.03,
    })
  })

  it('falls with blur and with noise that hangs together, and is 0 where nothing is left', () => {
    const size = { alongPx: 4, acrossPx: 4 }
    const sharp = matchedK(0.1, size, SHARP, WHITE)
    const blurred = matchedK(0.1, size, [1, 0.8, 0.4, 0.1, 0, 0, 0], WHITE)
    const clotted = matchedK(0.1, size, SHARP, { ...WHITE, along: [1, 0.7, 0.4], across: [1, 0.5] })
    expect(blurred).toBeLessThan(0.85 * sharp)
    expect(clotted).toBeLessThan(0.7 * sharp)
    expect(matchedK(0.1, size, [0, 0, 0, 0, 0, 0, 0], WHITE)).toBe(0)
  })
})
