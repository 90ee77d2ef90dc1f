import type { Estimate } from '../../math/interval.js'
import { roundNumbers } from '../../units/roundNumbers.js'
import type { Said } from '../../sentences.js'
import type { Figures } from '../../units/figures.js'
import { densityOnLine } from '../range/densityOnLine.js'
import type { Grade, Grading } from '../gradings/grading.js'
import { gradeMeasured } from '../gradings/gradeMeasured.js'
import { markStandsOut } from '../marks/markStands.js'
import type { Basis, RangeResult, Verdict } from '../judgement.js'
import type { PromiseAnswer } from './promiseAtMark.js'
import { detailShare } from '../range/ranges.js'
import { onTargetOnLine } from '../range/rangeOnLine.js'
import { keptMarks, type Series, sightM } from '../range/series.js'
import { gradeSays } from '../sentences.js'

/** Judges a promise where no mark stands at its distance (metres, as taped): by how far the grade holds over the marks of the series. */
export function promiseByRange(
  distanceM: number,
  series: Series,
  rangesOfSeries: readonly RangeResult[],
  grade: Grade,
  grading: Grading,
  judge: Basis,
  figures: Figures,
): PromiseAnswer {
  const rangeOn = (basis: Basis): RangeResult =>
    rangesOfSeries.find((range) => range.grade === grade.id && range.basis === basis)!
  const kept = keptMarks(series)
  const usable = kept.filter((mark) => gradeMeasured(mark, grading, judge).usable !== false)
  const reaches = { pixels: farthest(kept), detail: farthest(usable) }
  const byPixels = verdictOf(series, rangeOn('pixels'), distanceM, reaches.pixels, grade.limit)
  const range = rangeOn(judge)
  const verdict = verdictOf(series, range, distanceM, reaches.detail, grade.limit)
  const unclear = around(kept, distanceM).find((mark) => {
    const stands = markStandsOut(mark, grade, grading)
    return stands !== null && stands !== 'met'
  })
  const density = densityThere(series, distanceM, judge)
  const promised = figures.distance(distanceM)
  if (verdict === 'met' && unclear !== undefined) {
    const { message } = gradeSays['stroke-not-shown'](figures.distance(unclear.distanceM))
    const why = gradeSays['between-marks'](promised, message, true).message
    return { verdict: 'not shown', byPixels, density, why }
  }
  const turned =
    verdict === 'not shown' &&
    range.high !== null &&
    range.high <= distanceM &&
    wouldReachFacing(series, distanceM, grade.limit)
  const told = turned
    ? gradeSays['turned-around-there'](range.reference, promised)
    : howFar(range, verdict, distanceM, reaches.detail, keptMarks(series).length, figures)
  const why = gradeSays['between-marks'](promised, told.message, verdict === 'not shown' && !turned).message
  return { verdict, byPixels, density, why }
}

// The nearest mark on either side.
function around(marks: Series['marks'], distanceM: number): Series['marks'] {
  const beyond = marks.findIndex((mark) => mark.distanceM > distanceM)
  return beyond === -1 ? marks.slice(-1) : marks.slice(Math.max(0, beyond - 1), beyond + 1)
}

function farthest(marks: Series['marks']): number {
  return Math.max(0, ...marks.map(({ distanceM }) => distanceM))
}

// Beyond the farthest usable mark nothing is shown to hold, however well the fit foretells it; that it fails there is shown.
function verdictOf(
  series: Series,
  range: RangeResult,
  distanceM: number,
  farthestM: number,
  limit: number,
): Verdict {
  const { from, low, high } = range
  if (high !== null && high <= distanceM) {
    return wouldReachFacing(series, distanceM, limit) ? 'not shown' : 'not met'
  }
  if (low === null || low < distanceM || distanceM > farthestM) return 'not shown'
  return from === null || from <= distanceM ? 'met' : 'not shown'
}

// Held square to the ray the reference would get there: then how it was held is what failed. Known only with poses.
function wouldReachFacing(series: Series, distanceM: number, limit: number): boolean {
  if (series.fit === null || keptMarks(series).some(({ turnDeg }) => turnDeg === null)) return false
  return densityOnLine(series.fit, null, sightM(series, distanceM)).logDensity >= Math.log(limit)
}

function densityThere(series: Series, distanceM: number, judge: Basis): Estimate | null {
  if (series.fit === null) return null
  const lineM = sightM(series, distanceM)
  if (judge === 'pixels') return onTargetOnLine(series.fit, lineM)
  const share = detailShare(series)
  return share === null ? null : onTargetOnLine(series.fit, lineM, share)
}

/** What the marks show of a grade, and, where that does not decide, what is wanting. */
function howFar(
  range: RangeResult,
  verdict: Verdict,
  distanceM: number,
  farthestM: number,
  markCount: number,
  figures: Figures,
): Said {
  const { from, low, high, kind, basis } = range
  const isDecided = verdict !== 'not shown'
  if (!isDecided) {
    if (kind === 'none' && high === null) {
      return basis === 'pixels' && markCount < 3
        ? gradeSays['too-few-marks-for-range']()
        : gradeSays['no-mark-holds']()
    }
    if (distanceM > farthestM) return gradeSays['beyond-usable'](figures.distance(farthestM))
    if (from !== null && from > distanceM) return gradeSays['holds-from'](figures.distance(from))
  }
  const { distance } = range
  if (distance !== null && low !== null && high !== null) {
    const reach = figures.reach(roundNumbers({ value: distance, low, high }))
    const { lengthUnit } = figures
    return gradeSays['holds-to'](`${reach.value} ${lengthUnit}`, `${reach.low} to ${reach.high}`, isDecided)
  }
  const fails = high === null ? null : figures.distance(high)
  if (low !== null) return gradeSays['holds-at'](figures.distance(low), fails, isDecided)
  return fails === null ? gradeSays['no-mark-holds']() : gradeSays['fails-at'](fails)
}
