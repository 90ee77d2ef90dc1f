import { describe, expect, it } from 'vitest'
import { PROMISED_M, riskCurve, TRUTH_OVER_LIMIT, wilson } from '../../support/riskCurves.js'
import { CLASSES, MARK_SETS, type WalkClass } from '../../support/riskWalk.js'

// A small part of `node bench/run.js riskCurves`, whose kept result has 1,000 walks a line. A rate is held against its bound by the 99 % interval of Wilson: all promises
// of one walk err together, so the walks are what counts.
const WALKS = 150
const SHOWN_WALKS = 3 * WALKS

/** Least truth over limit at which a class is decided in 95 of 100: closer, for better known corners. */
const DECIDED_AT: Readonly<Record<WalkClass, number>> = {
  snapped: 1.05,
  found: 1.05,
  clicked: 1.1,
  plate: 1.1,
  'two references': 1.1,
}

describe.each(Object.keys(CLASSES) as WalkClass[])('promises of %s walks', (walkClass) => {
  const curves = MARK_SETS.slice(0, 3).map((marksM, index) =>
    riskCurve(walkClass, marksM, WALKS, 101 + index),
  )
  const rate = (ratio: number, verdict: 'met' | 'not met' | 'not shown'): number =>
    curves.reduce(
      (sum, { verdicts }) => sum + verdicts[TRUTH_OVER_LIMIT.indexOf(ratio)]![verdict] / PROMISED_M.length,
      0,
    )

  it('are covered 93 to 99.5 times in 100, at marks and between them', () => {
    PROMISED_M.forEach((distanceM, at) => {
      const covered = curves.reduce((sum, each) => sum + each.covered[at]!, 0)
      const [low, high] = wilson(covered, SHOWN_WALKS)
      expect(high, `${distanceM} m: ${covered} of ${SHOWN_WALKS}`).toBeGreaterThanOrEqual(0.93)
      expect(low, `${distanceM} m: ${covered} of ${SHOWN_WALKS}`).toBeLessThanOrEqual(0.995)
    })
  })

  it('are wrongly met or not met at most 4 times in 100 a thousandth from the limit, and never far from it', () => {
    expect(wilson(rate(0.999, 'met'), SHOWN_WALKS)[0], 'met at 0.999').toBeLessThanOrEqual(0.04)
    expect(wilson(rate(1.001, 'not met'), SHOWN_WALKS)[0], 'not met at 1.001').toBeLessThanOrEqual(0.04)
    expect(rate(0.95, 'met')).toBe(0)
    expect(rate(1.05, 'not met')).toBe(0)
  })

  it('are decided a little above the limit', () => {
    const met = rate(DECIDED_AT[walkClass], 'met')
    console.log(
      `${walkClass}: met at ${DECIDED_AT[walkClass]} in ${((100 * met) / SHOWN_WALKS).toFixed(1)} %`,
    )
    expect(met / SHOWN_WALKS).toBeGreaterThanOrEqual(0.95)
  })
})

it('the interval of Wilson is that of a published example', () => {
  // Newcombe, Stat. Med. 17 (1998) 857, table I, method 3: 81 of 263, 95 %.
  const [low, high] = wilson(81, 263, 0.95)
  expect(low).toBeCloseTo(0.2553, 4)
  expect(high).toBeCloseTo(0.3662, 4)
})
