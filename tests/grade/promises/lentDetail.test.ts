import { expect, it } from 'vitest'
import { draws } from '../../draws.js'
import { lentDetailRates } from '../../support/lentDetail.js'
import { wilson } from '../../support/riskCurves.js'

const WALKS = draws(120)
const percent = (share: number): string => `${(100 * share).toFixed(1)} %`

// A clicked plate is known to 2 % by its clicks alone: what is left for detail takes a chart.
it.each([
  ['a clicked plate by a board', { plate: 'plate', withChart: false }, 0.6],
  ['a clicked plate by a board beside a chart', { plate: 'plate', withChart: true }, 0.8],
  ['a snapped reference by a board', { plate: 'snapped', withChart: false }, 0.8],
  ['a snapped reference by a board beside a chart', { plate: 'snapped', withChart: true }, 0.95],
] as const)(
  'detail lent to %s covers the truth, promises nothing wrongly, and shows a lens with 5 %% to spare',
  (name, walked, metAtLeast) => {
    const { walks, ...rates } = lentDetailRates(WALKS, 7, walked)
    console.log(
      `${name}: ${walks} walks, U ${percent(rates.meanU)}, covered ${percent(rates.covered)}, met at 1.05 ${percent(rates.metAbove)}, at 0.999 ${percent(rates.metUnder)}, not met at 1.001 ${percent(rates.notMetOver)}`,
    )
    expect(walks).toBeGreaterThan(0.95 * WALKS)
    expect(wilson(rates.covered * walks, walks)[1]).toBeGreaterThanOrEqual(0.93)
    expect(wilson(rates.metUnder * walks, walks)[0]).toBeLessThanOrEqual(0.04)
    expect(wilson(rates.notMetOver * walks, walks)[0]).toBeLessThanOrEqual(0.04)
    expect(wilson(rates.metAbove * walks, walks)[1]).toBeGreaterThanOrEqual(metAtLeast)
  },
)
