import { fitWalk } from '../../src/grade/court/fitWalk.js'
import type { MarkMeasurement } from '../../src/grade/marks/markMeasurement.js'
import type { RangeConditions } from '../../src/grade/range/fitRange.js'
import type { RangeFit } from '../../src/grade/range/rangeFit.js'

/** The fit of one light and reference by itself; null without a mark. */
export function fitOfMarks(marks: readonly MarkMeasurement[], conditions: RangeConditions): RangeFit | null {
  return fitWalk([{ light: 'day', reference: 'board', marks }], conditions).series[0]!.fit
}
