import { describe, expect, it } from 'vitest'
import { INCH_TYPES, inchTypeWidthM } from '../../src/lens/inchTypes.js'
import { expectNear } from '../nearly.js'

// The diagonals of the common public table of imager formats, mm: figures beside the sizes, from the same table.
const DIAGONALS_MM: readonly (readonly [inches: number, diagonalMm: number])[] = [
  [1 / 4, 4.5],
  [1 / 3.6, 5],
  [1 / 3.2, 5.68],
  [1 / 3, 6],
  [1 / 2.7, 6.72],
  [1 / 2.5, 7.18],
  [1 / 2.3, 7.67],
  [1 / 2, 8],
  [1 / 1.8, 8.94],
  [1 / 1.7, 9.5],
  [1 / 1.6, 10.07],
  [2 / 3, 11],
  [1 / 1.2, 13.34],
  [1, 16],
]

describe('inch types', () => {
  it('have the sides and diagonals of the public table', () => {
    for (const [inches, diagonalMm] of DIAGONALS_MM) {
      const type = INCH_TYPES.find((known) => known.inches === inches)!
      const [width, height] = type.sizesMm[0]!
      expectNear(Math.hypot(width, height), diagonalMm, { abs: 0.02 }, `type ${inches}`)
    }
  })

  it('cover 1920 pixels of 2.9 um under 1/2.8, and each size of the table under its type', () => {
    const span = inchTypeWidthM(1 / 2.8)
    expect(span.low).toBeLessThanOrEqual(5.12e-3)
    expect(span.high).toBeGreaterThanOrEqual(1920 * 2.9e-6)
    for (const { inches, sizesMm } of INCH_TYPES) {
      const { low, high } = inchTypeWidthM(inches)
      for (const [width] of sizesMm) {
        expect(low * 1000).toBeLessThanOrEqual(width)
        expect(high * 1000).toBeGreaterThanOrEqual(width)
      }
      expect(high / low, `the span of ${inches} stays narrow enough to mean something`).toBeLessThan(1.15)
    }
  })

  it('not in the table follow the rule: 18 mm times the type below 1/2, 16 mm from there on', () => {
    // 1/2.9: a diagonal of 6.207 mm, so 4.966 mm wide in 4:3 and 5.410 mm in 16:9.
    const span = inchTypeWidthM(1 / 2.9)
    expectNear(span.low, 4.9655e-3, { rel: 1e-4 })
    expectNear(span.high, 5.4098e-3, { rel: 1e-4 })
    expectNear(inchTypeWidthM(1.5).low, 19.2e-3, { rel: 1e-9 })
  })
})
