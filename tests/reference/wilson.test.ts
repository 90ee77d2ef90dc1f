import { describe, expect, it } from 'vitest'
import { wilson } from '../../src/trial/wilson.js'
import { expectNear } from '../nearly.js'

// R. G. Newcombe, Statistics in Medicine 17 (1998) 857-872, table I, method 3 (score without a correction for continuity), printed to four places. With the correction
// 15 of 148 would be 0.0598 to 0.1644.
const PUBLISHED = [
  [81, 263, 0.2553, 0.3662],
  [15, 148, 0.0624, 0.1605],
  [0, 20, 0, 0.1611],
  [1, 29, 0.0061, 0.1718],
  [29, 29, 0.883, 1],
] as const

describe("Wilson's interval", () => {
  it.each(PUBLISHED)('is the published one of %i in %i', (right, asked, low, high) => {
    const interval = wilson(right, asked)
    expectNear(interval.low, low, { abs: 5.1e-5 })
    expectNear(interval.high, high, { abs: 5.1e-5 })
  })

  it('ends at nought and one exactly where none or all are right', () => {
    expect(wilson(0, 7).low).toBe(0)
    expect(wilson(7, 7).high).toBe(1)
  })
})
