import { expect, it } from 'vitest'
import { constantOf } from '../../../src/grade/range/densityAt.js'
import { seriesInOrder } from '../../../src/grade/court/seriesInOrder.js'
import { seededRandom } from '../../../src/math/random.js'
import { wilson } from '../../support/riskCurves.js'
import { CLASSES, F, MARK_SETS, riskWalk, type StillFault, type WalkClass } from '../../support/riskWalk.js'
import { WRONG_CELLS } from '../../support/wrongWalks.js'

// With the cause named and freed, what is promised by pixels holds again: a promise at D is F / D, so F's interval is every promise's.
const WALKS = 100
const [, , MARKS] = MARK_SETS

const wrong: [string, WalkClass][] = [
  ['none', 'clicked'],
  ['start -0.30 m', 'clicked'],
  ['start +0.50 m', 'clicked'],
  ['start +0.50 m', 'snapped'],
  ['one mark -0.4 m', 'clicked'],
  ['one mark +0.5 m', 'snapped'],
  ['size 3 %', 'two references'],
  ['rougher 2x', 'clicked'],
  ['start and mark', 'snapped'],
]

it.each(wrong)('intervals hold in 93 of 100 walks: %s, %s', (name, walkClass) => {
  const { fault, lights } = WRONG_CELLS.find((cell) => cell.name === name)!
  const at = (light: string, reference: string, index: number): StillFault =>
    fault({ light, reference, index, marks: MARKS!.length })
  const random = seededRandom(21)
  let covered = 0
  let width = 0
  for (let walk = 0; walk < WALKS; walk++) {
    const { series } = seriesInOrder({
      stills: riskWalk(walkClass, MARKS!, random, { lights, fault: at }),
      lights,
      references: CLASSES[walkClass].map(([reference]) => reference.name),
      distanceToleranceM: 0.05,
      lensKnown: false,
    })
    const intervals = series.map(({ fit }) => constantOf(fit!))
    if (intervals.every(({ low, high }) => low <= F && F <= high)) covered += 1
    width += (intervals[0]!.high - intervals[0]!.low) / 2 / F / WALKS
  }
  console.log(`${name}, ${walkClass}: ${covered} of ${WALKS} covered, +/- ${(100 * width).toFixed(2)} %`)
  expect(wilson(covered, WALKS)[1]).toBeGreaterThanOrEqual(0.93)
})
