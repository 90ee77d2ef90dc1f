import { effectiveDof } from '../../src/math/effectiveDof.js'
import { coverageFactor, chi2Quantile, normalQuantile, tQuantile } from '../../src/math/quantiles.js'
import { expectNear } from '../nearly.js'
import { normalCdf } from '../support/normalCdf.js'
import { describe, expect, it } from 'vitest'

describe('quantiles against closed forms, which need no table', () => {
  it('gives the normal quantile known to sixteen digits', () => {
    expectNear(normalQuantile(0.975), 1.959963984540054, { rel: 1e-9 })
    expectNear(normalCdf(1.959963984540054), 0.975, { rel: 1e-9 })
    expectNear(normalCdf(-1), 1 - normalCdf(1), { abs: 1e-12 })
  })
  it('gives Student t of one and two degrees of freedom, whose distributions invert in closed form', () => {
    expectNear(tQuantile(0.975, 1), Math.tan(Math.PI * 0.475), { rel: 1e-7 })
    const p = 0.995
    expectNear(tQuantile(p, 2), (2 * p - 1) * Math.sqrt(2 / (4 * p * (1 - p))), { rel: 1e-7 })
  })
  it('gives chi-square of two degrees of freedom, an exponential', () => {
    expectNear(chi2Quantile(0.99, 2), -2 * Math.log(0.01), { rel: 1e-7 })
  })
})

describe('quantiles against JCGM 100:2008, table G.2', () => {
  it.each([
    [3, 3.18],
    [8, 2.31],
    [16, 2.12],
    [50, 2.01],
  ])('gives t at 95 %% for %d degrees of freedom', (dof, printed) => {
    expectNear(coverageFactor(dof), printed, { abs: 0.005 }, 'printed to two decimals')
  })
  it('takes k = 2 where the degrees of freedom are infinite', () => {
    expect(coverageFactor(Infinity)).toBe(2)
  })
})

describe('effective degrees of freedom', () => {
  it('reproduces JCGM 100:2008, H.1: 16.7 for the end gauge', () => {
    // Contributions in nm with their degrees of freedom, H.1.6: 25 (18), 9.7 (25.6), 2.9 (50), 16.6 (2).
    const dof = effectiveDof([
      { u: 25, dof: 18 },
      { u: 9.7, dof: 25.6 },
      { u: 2.9, dof: 50 },
      { u: 16.6, dof: 2 },
    ])
    expectNear(dof, 16.7, { abs: 0.1 }, 'printed to three figures from rounded contributions')
    expectNear(tQuantile(0.995, 16), 2.92, { abs: 0.005 }, 'k for 99 %, printed 2.92')
  })
  it('is infinite where nothing was estimated from scatter', () => {
    expect(effectiveDof([{ u: 2, dof: Infinity }])).toBe(Infinity)
    expect(effectiveDof([])).toBe(Infinity)
  })
  it('refuses what is no contribution', () => {
    expect(() => effectiveDof([{ u: NaN, dof: 3 }])).toThrow(/contribution/)
    expect(() => effectiveDof([{ u: 1, dof: 0 }])).toThrow(/contribution/)
  })
})

it('refuses what is no probability', () => {
  expect(() => normalQuantile(1)).toThrow(/between 0 and 1/)
  expect(() => tQuantile(NaN, 3)).toThrow(/between 0 and 1/)
  expect(() => chi2Quantile(0.5, -1)).toThrow(/positive/)
})
