import { describe, expect, it } from 'vitest'
import { distanceWhere, fitReadingCurve } from '../../src/trial/readingCurve.js'
import { expectNear } from '../nearly.js'
import { referenceResults } from '../support/fixtures.js'

// scipy's optimisers (Nelder and Mead, then BFGS) on the same counts: fixtures/reference/readingCurves.py.
interface KnownCurve {
  readonly name: string
  readonly guess: number
  readonly distancesM: number[]
  readonly right: number[]
  readonly asked: number[]
  readonly halfM: number
  readonly steepness: number
  readonly at95M: number
  readonly at50M: number
}
const known = referenceResults<KnownCurve[]>('readingCurves')

describe('the likeliest curve of reading', () => {
  it.each(known)("is scipy's: $name", (one) => {
    const marks = one.distancesM.map((distanceM, i) => {
      return { distanceM, right: one.right[i]!, asked: one.asked[i]! }
    })
    const curve = fitReadingCurve(marks, one.guess)!
    expectNear(curve.halfM, one.halfM, { rel: 1e-4 })
    expectNear(curve.steepness, one.steepness, { rel: 1e-4 })
    expectNear(distanceWhere(curve, 0.95), one.at95M, { rel: 1e-4 })
    expectNear(distanceWhere(curve, 0.5), one.at50M, { rel: 1e-4 })
  })

  it('was recorded for six sets of counts', () => {
    expect(known).toHaveLength(6)
  })
})
