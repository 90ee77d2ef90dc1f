import type { Grade, Grading } from '../gradings/grading.js'
import type { RangeResult } from '../judgement.js'
import type { MarkMeasurement } from '../marks/markMeasurement.js'
import { markHolds } from '../marks/markStands.js'

/**
 * How far a grade holds with detail, from the marks alone (ascending, none left out): between the last that holds it and the first beyond that fails.
 * `from` is the first mark that holds it after one that fails. `extrapolated` where none beyond fails; `none` where no mark holds it:
 * `high` is then the nearest mark from which on every one is shown to fail, or null. Metres as taped.
 */
export function bracketRange(
  marks: readonly MarkMeasurement[],
  grade: Grade,
  grading: Grading,
): Pick<RangeResult, 'from' | 'distance' | 'low' | 'high' | 'kind'> {
  const verdicts = marks.map((mark) => markHolds(mark, grade, grading))
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
    kind: failingBeyond === -1 ? 'extrapolated' : 'bracketed',
  }
}
