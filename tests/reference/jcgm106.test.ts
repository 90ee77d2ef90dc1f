import { describe, expect, it } from 'vitest'
import { decide } from '../../src/grade/gradings/decide.js'
import { seededRandom } from '../../src/math/random.js'
import { expectNear } from '../nearly.js'

// JCGM 106:2012, "The role of measurement uncertainty in conformity assessment", and ILAC-G8:09/2019: with a guard band
// w = r U, U = 2 u, an item whose reading lies exactly on the acceptance limit is out with chance Phi(-2 r):
// r = 1 gives 2.28 %. The guide's pages were quoted from memory; the arithmetic follows from the normal distribution.
const RISK_AT_FULL_GUARD_BAND = 0.02275

describe('the guard band of JCGM 106', () => {
  it('accepts a speed 2 % of reading above its limit only from 106.59 km/h on, at 99.9 %', () => {
    // JCGM 106 example of a speed limit: 100 / (1 - 0.02 x 3.0902) = 106.59; k = 3.0902 for one-sided 0.999.
    const shown = (reading: number) =>
      decide({ low: reading * (1 - 0.02 * 3.0902), high: reading * 1.07 }, 100)
    expect(shown(106.58)).toBe('not shown')
    expect(shown(106.6)).toBe('met')
  })

  it('calls at most 2.3 % of true values just under the limit met', () => {
    const random = seededRandom(106)
    const trials = 40_000
    let accepted = 0
    for (let trial = 0; trial < trials; trial++) {
      const reading = 125 - 1e-9 + 2 * random.normal()
      if (decide({ low: reading - 4, high: reading + 4 }, 125) === 'met') accepted += 1
    }
    const spread = Math.sqrt((RISK_AT_FULL_GUARD_BAND * (1 - RISK_AT_FULL_GUARD_BAND)) / trials)
    expectNear(accepted / trials, RISK_AT_FULL_GUARD_BAND, { abs: 4 * spread }, 'four standard errors')
  })
})
