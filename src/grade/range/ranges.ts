import type { Grade, Grading } from '../gradings/grading.js'
import type { Basis, RangeResult } from '../judgement.js'
import { markStandsOut } from '../marks/markStands.js'
import { bracketRange, type Reach } from './bracketRange.js'
import { detailShare, holdsAtMark, usableMarks } from './densityThere.js'
import { LEAST_MARKS } from './fitRange.js'
import { rangeOnLine } from './rangeOnLine.js'
import { keptMarks, type Series, tapedM } from './series.js'

/** By pixels a range is stated to at most so many times the farthest mark. This project's convention. */
const FARTHEST_STATED = 2

/** How far out each grade holds in one series, by pixels and with detail; metres as taped. Grades in the grading's order, pixels before detail. */
export function ranges(series: Series, grading: Grading): RangeResult[] {
  return grading.grades.flatMap((grade) =>
    (['pixels', 'detail'] as const).map((basis): RangeResult => {
      const { from, distance, low, high, kind } = reachOf(series, grade, grading, basis)
      const place = { light: series.light, reference: series.reference, grade: grade.id }
      const lent = series.fit?.lent ?? null
      return { ...place, basis, from, distance, low, high, kind, ...(lent && { lentBy: lent.light }) }
    }),
  )
}

/** Where the density of the fit falls to the limit, as far as the marks show it: with detail never beyond them. */
function reachOf(series: Series, grade: Grade, grading: Grading, basis: Basis): Reach {
  const marks = keptMarks(series)
  const usable = usableMarks(series, grading, basis)
  const shown = bracketRange(
    marks,
    marks.map((mark) => holdsAtMark(mark, series, grade, grading, basis)),
  )
  if (usable.length < LEAST_MARKS) return { ...shown, kind: 'too-few' }
  if (shown.kind === 'none' || series.fit === null) return shown
  const share = basis === 'pixels' ? null : detailShare(series)
  const stand = marks.every((mark) => (markStandsOut(mark, grade, grading) ?? 'met') === 'met')
  if (basis === 'detail' && (share === null || !stand)) return shown
  const onLine = rangeOnLine(series.fit, grade.limit, share)
  const [distance, low, high] = [onLine.value, onLine.low, onLine.high].map((each) => tapedM(series, each))
  const from = onLine.from === null ? null : tapedM(series, onLine.from)
  const farthestM = usable.at(-1)!.distanceM
  if (basis === 'detail' && high! > farthestM) return shown
  const statedM = FARTHEST_STATED * farthestM
  if (high! > statedM) {
    return { from, distance: null, low: Math.min(low!, statedM), high: null, kind: 'extrapolated' }
  }
  return {
    from,
    distance: distance!,
    low: low!,
    high: high!,
    kind: distance! > farthestM ? 'extrapolated' : 'fitted',
  }
}
