import type { Estimate } from '../../math/interval.js'
import { densityOnLine } from '../range/densityOnLine.js'
import type { Grade, Grading } from '../gradings/grading.js'
import { gradeMeasured } from '../gradings/gradeMeasured.js'
import { markStandsOut } from '../marks/markStands.js'
import type { Basis, RangeResult, Verdict } from '../judgement.js'
import type { PromiseAnswer } from './promiseAtMark.js'
import { detailShare } from '../range/ranges.js'
import { onTargetOnLine } from '../range/rangeOnLine.js'
import { keptMarks, type Series, sightM } from '../range/series.js'
import type { Wording } from '../wording.js'

/** Judges a promise where no mark stands at its distance (metres, as taped): by how far the grade holds over the marks of the series. */
export function promiseByRange(
  distanceM: number,
  series: Series,
  rangesOfSeries: readonly RangeResult[],
  grade: Grade,
  grading: Grading,
  judge: Basis,
  say: Wording,
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
  const start = `no measured still at ${say.length(distanceM)}; `
  if (verdict === 'met' && unclear !== undefined) {
    const why = `${start}a stroke is not shown to stand out at the ${say.length(unclear.distanceM)} mark: walk ${say.length(distanceM)}`
    return { verdict: 'not shown', byPixels, density, why }
  }
  const why = `${start}${whyOf(range, verdict, distanceM, reaches.detail, series, grade.limit, say)}`
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

function whyOf(
  range: RangeResult,
  verdict: Verdict,
  distanceM: number,
  farthestM: number,
  series: Series,
  limit: number,
  say: Wording,
): string {
  const { from, distance, low, high, kind } = range
  const held = stretch(range, say)
  if (verdict !== 'not shown') return held
  const walkIt = `walk ${say.length(distanceM)}`
  if (high !== null && high <= distanceM && wouldReachFacing(series, distanceM, limit)) {
    return `${range.reference} was held turned around there: ${walkIt}, held square to the camera`
  }
  if (kind === 'none' && high === null) {
    const marks = keptMarks(series).length
    if (range.basis === 'pixels' && marks < 3) return `too few marks to say how far it holds: ${walkIt}`
    return `no mark shows it to hold: ${walkIt}`
  }
  if (distanceM > farthestM) {
    return `the farthest usable mark is ${say.length(farthestM)}, beyond it nothing is shown to hold: ${walkIt}`
  }
  if (from !== null && from > distanceM)
    return `it is shown to hold from ${say.length(from)} on only: ${walkIt}`
  return distance === null && low === null
    ? `${held}: ${walkIt}`
    : `${held}, which decides neither: ${walkIt}`
}

function stretch({ distance, low, high }: RangeResult, say: Wording): string {
  if (distance !== null && low !== null && high !== null) {
    return `by the marks the grade holds to ${say.length(distance)} (${say.length(low)} to ${say.length(high)})`
  }
  const parts = [
    ...(low === null ? [] : [`it holds at the ${say.length(low)} mark`]),
    ...(high === null ? [] : [`it fails at the ${say.length(high)} mark`]),
  ]
  return parts.length === 0 ? 'no mark shows it to hold' : parts.join(' and ')
}
