import { agreedShare } from './agreedShare.js'
import { bracketRange } from './bracketRange.js'
import type { Grade, Grading } from '../gradings/grading.js'
import type { Basis, RangeResult } from '../judgement.js'
import type { MarkMeasurement } from '../marks/markMeasurement.js'
import { markStandsOut } from '../marks/markStands.js'
import { rangeOnLine, type Share } from './rangeOnLine.js'
import { dropSquaredM2, keptMarks, type Series, tapedM } from './series.js'

type Reach = Pick<RangeResult, 'from' | 'distance' | 'low' | 'high' | 'kind'>
const NO_REACH: Reach = { from: null, distance: null, low: null, high: null, kind: 'none' }

/** How far out each grade holds in one series, by pixels and with detail; metres as taped. Grades in the grading's order, pixels before detail. */
export function ranges(series: Series, grading: Grading): RangeResult[] {
  const share = detailShare(series)
  return grading.grades.flatMap((grade) => {
    const place = { light: series.light, reference: series.reference, grade: grade.id }
    const byPixels = fittedReach(series, grade.limit, null) ?? NO_REACH
    const byDetail = detailReach(series, grade, grading, share)
    const bases: [Basis, Reach][] = [
      ['pixels', byPixels],
      ['detail', byDetail],
    ]
    return bases.map(([basis, { from, distance, low, high, kind }]) => ({
      ...place,
      basis,
      from,
      distance,
      low,
      high,
      kind,
    }))
  })
}

/** The share of pixels with detail that carries the fit over to detail, or null where the marks do not agree on one. */
export function detailShare(series: Series): Share | null {
  return series.fit === null ? null : agreedShare(keptMarks(series))
}

function detailReach(series: Series, grade: Grade, grading: Grading, share: Share | null): Reach {
  const marks = keptMarks(series)
  const stands = (mark: MarkMeasurement): boolean => {
    const answer = markStandsOut(mark, grade, grading)
    return answer === null || answer === 'met'
  }
  const fitted = share === null || !marks.every(stands) ? null : fittedReach(series, grade.limit, share)
  return fitted ?? bracketRange(marks, grade, grading)
}

/** Null where there is no fit. */
function fittedReach(series: Series, limit: number, share: Share | null): Reach | null {
  if (series.fit === null) return null
  const reach = share === null ? rangeOnLine(series.fit, limit) : rangeOnLine(series.fit, limit, share)
  // Nearer than the lens hangs above the reference nothing can be carried.
  if (reach === null || reach.high ** 2 <= dropSquaredM2(series)) return NO_REACH
  const farthestM = series.fit.marks.at(-1)!.point.distanceM
  return {
    from: reach.from === null ? null : tapedM(series, reach.from),
    distance: tapedM(series, reach.value),
    low: tapedM(series, reach.low),
    high: tapedM(series, reach.high),
    kind: reach.value > farthestM ? 'extrapolated' : 'fitted',
  }
}
