import type { RangeResult, Verdict } from '../judgement.js'
import type { MarkMeasurement } from '../marks/markMeasurement.js'

/** How far a grade holds, as a range tells it. */
export type Reach = Pick<RangeResult, 'from' | 'distance' | 'low' | 'high' | 'kind'>

/**
 * How far a grade holds, from what became of it at the marks alone (ascending, none left out): between the last that holds it and the first beyond that fails, or null
 * where none does. `from` is the first mark that holds it after one that fails. `none` where no mark holds it: `high` is then the nearest mark from which on every
 * one is shown to fail, or null. Metres as taped.
 */
export function bracketRange(marks: readonly MarkMeasurement[], verdicts: readonly Verdict[]): Reach {
  const distanceAt = (index: number): number | null => marks[index]?.distanceM ?? null
  const last = verdicts.lastIndexOf('met')
  if (last === -1) {
    const firstOfFailing = verdicts.findLastIndex((verdict) => verdict !== 'not met') + 1
    return { from: null, distance: null, low: null, high: distanceAt(firstOfFailing), kind: 'none' }
  }
  const failingBeyond = verdicts.indexOf('not met', last + 1)
  const failingBefore = verdicts.lastIndexOf('not met', last)
  return {
    from: failingBefore === -1 ? null : distanceAt(verdicts.indexOf('met', failingBefore)),
    distance: null,
    low: distanceAt(last),
    high: distanceAt(failingBeyond),
    kind: 'bracketed',
  }
}
