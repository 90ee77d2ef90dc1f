import type { Estimate, MaybeBound } from '../../math/interval.js'
import { decide } from '../gradings/decide.js'
import type { Grade, Grading } from '../gradings/grading.js'
import { gradeMeasured } from '../gradings/gradeMeasured.js'
import type { Basis, Verdict } from '../judgement.js'
import type { MarkMeasurement } from '../marks/markMeasurement.js'
import { markStandsOut } from '../marks/markStands.js'
import { agreedShare } from './agreedShare.js'
import { densityAt, leftOpenAt, type Share, variancesAt } from './densityAt.js'
import type { UncertaintySource } from './expandedOf.js'
import { keptMarks, type Series, sightM } from './series.js'
import type { BoundCause } from '../sentences.js'

/** The share of pixels with detail that carries the fit over to detail, or null where the marks do not agree on one. */
export function detailShare(series: Series): Share | null {
  return agreedShare(keptMarks(series))
}

/**
 * The density that counts at a distance (metres as taped), px/m: the one answer behind promises and ranges. With detail it is the share all marks agree on, else that
 * of the mark there; null where neither tells one, or nothing was measured.
 */
export function densityThere(
  series: Series,
  distanceM: number,
  basis: Basis,
  mark: MarkMeasurement | undefined,
): Estimate | null {
  if (series.fit === null) return null
  const share = shareThere(series, basis, mark)
  if (basis === 'detail' && share === null) return null
  const density = densityAt(series.fit, sightM(series, distanceM), share)
  return basis === 'detail' && boundThere(series) !== null ? { ...density, low: 0 } : density
}

/** Why the detail that marks of a series share is an upper bound, so that no low end of it is known (0); null where it is none. */
export function boundThere(series: Series): BoundCause | null {
  return keptMarks(series).find(({ isBound }) => isBound)?.boundBy ?? null
}

/** A density that may be an upper bound, as results have it: without a low end then. */
export function asBound(density: Estimate, isBound: boolean): MaybeBound {
  return isBound ? { ...density, low: null } : density
}

/** What most of that density's uncertainty comes from (`causes`: that causes cannot be told apart), and how much of its variance that is. */
export function mostlyFrom(
  series: Series,
  distanceM: number,
  basis: Basis,
  mark: MarkMeasurement | undefined,
): { readonly cause: UncertaintySource | 'causes'; readonly share: number } {
  const share = shareThere(series, basis, mark)
  const asked = [series.fit!, sightM(series, distanceM), share] as const
  const variances = [...variancesAt(...asked)]
  const total = variances.reduce((sum, [, variance]) => sum + variance, 0)
  const [cause, most] = variances.toSorted(([, one], [, other]) => other - one)[0]!
  const open = leftOpenAt(...asked)
  const own = ((1 - open) * most) / total
  return open > own ? { cause: 'causes', share: open } : { cause, share: own }
}

function shareThere(series: Series, basis: Basis, mark: MarkMeasurement | undefined): Share | null {
  return basis === 'pixels' ? null : (detailShare(series) ?? mark?.factor ?? null)
}

/** Whether a grade holds at a mark, by the density there alone or with detail and its element's standing out. */
export function holdsAtMark(
  mark: MarkMeasurement,
  series: Series,
  grade: Grade,
  grading: Grading,
  basis: Basis,
): Verdict {
  const verdictOn = (which: Basis): Verdict => {
    const density = densityThere(series, mark.distanceM, which, mark)
    return density === null ? 'not shown' : decide(density, grade.limit)
  }
  const byPixels = verdictOn('pixels')
  if (basis === 'pixels' || byPixels === 'not met') return byPixels
  const stands = markStandsOut(mark, grade, grading)
  if (stands === 'not met') return 'not met'
  const withDetail = verdictOn('detail')
  return withDetail === 'met' && stands === 'not shown' ? 'not shown' : withDetail
}

/** The marks that show something on a basis: by pixels alone every one that was kept, with detail only those something stands out at. */
export function usableMarks(series: Series, grading: Grading, basis: Basis): readonly MarkMeasurement[] {
  const kept = keptMarks(series)
  return basis === 'pixels'
    ? kept
    : kept.filter((mark) => gradeMeasured(mark, grading, basis).usable !== false)
}
