import type { Interval } from '../../math/interval.js'
import type { Verdict } from '../judgement.js'

/**
 * Decision with a guard band of the full expanded uncertainty (JCGM 106:2012): `met` when the interval's low end
 * reaches the limit, `not met` when its high end stays under it, else `not shown`. The interval and the limit share
 * one unit. NaN never decides, neither does an interval whose ends are crossed.
 */
export function decide(interval: Interval, limit: number): Verdict {
  if (interval.low > interval.high) return 'not shown'
  if (interval.low >= limit && !Number.isNaN(interval.high)) return 'met'
  if (interval.high < limit && !Number.isNaN(interval.low)) return 'not met'
  return 'not shown'
}
