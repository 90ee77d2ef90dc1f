import { describe, expect, it } from 'vitest'
import { normalDensity, normalIntegral } from '../../src/math/normalIntegral.js'
import { expectNear } from '../nearly.js'
import { normalCdf } from '../support/normalCdf.js'

describe('the normal integral', () => {
  // M. Abramowitz and I. A. Stegun, Handbook of Mathematical Functions, NBS AMS 55 (1964), table 26.1: P(x) to fifteen decimals.
  it.each([
    [0.5, 0.691462461274013],
    [1, 0.841344746068543],
    [1.5, 0.933192798731142],
    [2, 0.977249868051821],
    [3, 0.99865010196837],
  ])('at %d is as printed', (x, printed) => {
    expectNear(normalIntegral(x), printed, { abs: 6e-16 }, 'printed to fifteen decimals')
    expectNear(normalIntegral(-x), 1 - printed, { abs: 6e-16 }, 'the other tail')
  })

  // The same, table 26.2: -log Q(x) to five decimals.
  it.each([
    [5, 6.54265],
    [6, 9.00586],
    [8, 15.20614],
  ])('has beyond %d the tail printed', (x, printed) => {
    expectNear(-Math.log10(normalIntegral(-x)), printed, { abs: 6e-6 }, 'printed to five decimals')
  })

  it('agrees with jstat, which goes another way', () => {
    for (let x = -8.6; x < 8.6; x += 0.0137)
      expectNear(normalIntegral(x), normalCdf(x), { abs: 5e-16 }, `at ${x}`)
  })

  it('grows by what lies between, to twelve figures and far into the tail', () => {
    // Gauss-Legendre quadrature of five points (Abramowitz and Stegun, table 25.4).
    const rule = [
      [0, 128 / 225],
      ...[-1, 1].flatMap((side) => [
        [(side * Math.sqrt(5 - 2 * Math.sqrt(10 / 7))) / 3, (322 + 13 * Math.sqrt(70)) / 900],
        [(side * Math.sqrt(5 + 2 * Math.sqrt(10 / 7))) / 3, (322 - 13 * Math.sqrt(70)) / 900],
      ]),
    ]
    const half = 0.0191
    for (let x = -8.4; x < -0.1; x += 0.0137) {
      let between = 0
      for (const [at, weight] of rule) between += weight! * half * normalDensity(x + at! * half)
      const grown = normalIntegral(x + half) - normalIntegral(x - half)
      expectNear(grown, between, { rel: 1e-11 }, `at ${x}`)
    }
  })

  it('is over beyond its reach and unknown where its place is', () => {
    expect([normalIntegral(-9), normalIntegral(0), normalIntegral(9), normalIntegral(Infinity)]).toEqual([
      0, 0.5, 1, 1,
    ])
    expect(normalIntegral(NaN)).toBeNaN()
  })
})
