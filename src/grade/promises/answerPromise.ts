import type { Estimate, MaybeBound } from '../../math/interval.js'
import type { Said } from '../../sentences.js'
import type { Figures } from '../../units/figures.js'
import { roundNumbers } from '../../units/roundNumbers.js'
import { decide } from '../gradings/decide.js'
import type { Grade, Grading } from '../gradings/grading.js'
import type { Basis, RangeResult, Verdict } from '../judgement.js'
import { type MarkMeasurement, markReachM } from '../marks/markMeasurement.js'
import { elsewhereWords, noDetailWords, suspectTurn, turnWords, unusableWords } from '../marks/markWords.js'
import { asBound, boundThere, densityThere, usableMarks } from '../range/densityThere.js'
import { keptMarks, type Series, suspectFits } from '../range/series.js'
import { gradeSays } from '../sentences.js'
import { lendersOf, undecided } from './undecided.js'
import {
  type Evidence,
  evidenceAt,
  failsAsHeld,
  marksAround,
  standsAround,
  turnExplains,
} from './evidence.js'

/** What became of a promise in one series; densities px/m at its distance. */
export interface PromiseAnswer {
  readonly verdict: Verdict
  readonly byPixels: Verdict
  readonly density: MaybeBound | null
  /** On the other basis, by the same marks. */
  readonly onOtherBasis: MaybeBound | null
  readonly why: string
  /** What to do about it; null where nothing is to be done. */
  readonly mend: string | null
}

/** What a promise is held against. */
export interface Question {
  /** As promised, metres as taped. */
  readonly distanceM: number
  readonly grade: Grade
  readonly grading: Grading
  readonly judge: Basis
  readonly figures: Figures
  /** Marks of the series of which no still counts. */
  readonly apart: readonly MarkMeasurement[]
}

const UNANSWERED = { verdict: 'not shown', byPixels: 'not shown', density: null, onOtherBasis: null } as const

/** By pixels alone a still shows a little nearer by than where it stands: farther in, a lamp near the camera may glare. This project's convention. */
const NEARER_BY_PIXELS = 0.9

/** The mark at a distance (see `markReachM`), the nearest of them. */
export function markAt({ marks, fit }: Series, distanceM: number): MarkMeasurement | undefined {
  const off = (mark: MarkMeasurement): number => Math.abs(mark.distanceM - distanceM)
  return marks
    .filter((mark) => off(mark) <= markReachM(mark.distanceM, fit?.toleranceM ?? 0))
    .toSorted((a, b) => off(a) - off(b))[0]
}

/**
 * Judges a promise in one series, at a mark and between marks by the one rule: the density of the fit at the stated distance decides; a promise is met only where stills
 * stand at it or on both sides, and something stands out on them. That it is not met needs no still near by.
 */
export function answerPromise(
  question: Question,
  series: Series,
  rangesOfSeries: readonly RangeResult[],
): PromiseAnswer {
  const { distanceM, grade, grading, judge, figures } = question
  const mark = markAt(series, distanceM)
  const leftOut = mark === undefined ? null : leftOutWords(mark, series, figures)
  if (leftOut !== null) return { ...UNANSWERED, ...reasonOf(leftOut) }
  const kept = keptMarks(series)
  const around = mark === undefined ? marksAround(distanceM, kept) : [mark]
  const pixels = densityThere(series, distanceM, 'pixels', mark)
  const withDetail = densityThere(series, distanceM, 'detail', mark)
  const boundBy = boundThere(series)
  const isBound = boundBy !== null
  const [density, onOtherBasis] = judge === 'pixels' ? [pixels, withDetail] : [withDetail, pixels]
  const held = (counted: Estimate): Verdict => {
    const verdict = decide(counted, grade.limit)
    if (verdict === 'not met' && turnExplains(counted, around, grade.limit)) return 'not shown'
    return verdict === 'met' && failsAsHeld(counted, around, grade.limit) ? 'not shown' : verdict
  }
  const shown = (marks: readonly MarkMeasurement[], nearerBy: number) =>
    evidenceAt(distanceM, marks, series.fit?.toleranceM ?? 0, nearerBy)
  const byPixelCount = pixels === null ? 'not shown' : held(pixels)
  const byPixels =
    byPixelCount === 'met' && shown(kept, NEARER_BY_PIXELS) !== 'shown' ? 'not shown' : byPixelCount
  const promised = figures.distance(distanceM)
  const answer = (verdict: Verdict, said: Said, walkIt = verdict === 'not shown'): PromiseAnswer => {
    const told = [density, onOtherBasis].map((each) => each && asBound(each, each === withDetail && isBound))
    const reason = mark === undefined ? reasonBetween(question, series, said, walkIt) : reasonOf(said)
    return { verdict, byPixels, density: told[0]!, onOtherBasis: told[1]!, ...reason }
  }
  const at = atMarks(around, figures)
  const detailed = judge === 'detail' && density !== null
  const told = detailed ? density : pixels
  if (told === null) return answer('not shown', gradeSays['no-mark-holds']())
  const what = detailed ? ` with detail${takenFrom(mark === undefined ? kept : around)}` : ''
  const counted = `${figures.interval(roundNumbers(asBound(told, detailed && isBound)))} ${figures.densityUnit}${what} ${restsOn(series, mark === undefined ? 'by all marks' : at)}`
  const limit = figures.isMetric ? figures.bareLimit(grade.limit) : figures.limit(grade.limit)

  const stands = standsAround(around, grade, grading)
  if (stands.verdict === 'not met' && (mark !== undefined || around.length > 1)) {
    const why = unusableWords(stands.unclear!, grading)
    return answer('not met', gradeSays['nothing-stands-out-there'](series.reference, at, why))
  }
  if (decide(told, grade.limit) === 'not met' || failsAsHeld(told, around, grade.limit)) {
    const verdict = held(told)
    const turn = around.map((each) => (each.turnDeg === null ? null : turnWords(each)))[0] ?? null
    return verdict === 'not shown'
      ? answer(verdict, gradeSays['turned-there'](series.reference, turn, at, promised), false)
      : answer(verdict, gradeSays.decided(counted, limit))
  }
  const usable = usableMarks(series, grading, 'detail')
  const wanting = wantedStill(
    shown(usable, judge === 'pixels' ? NEARER_BY_PIXELS : 1),
    usable.map((each) => figures.distance(each.distanceM)),
  )
  if (wanting !== null) return answer('not shown', wanting)
  if (density === null) {
    if (mark === undefined) return byBrackets(question, rangesOfSeries, answer)
    return answer('not shown', noDetailThere(mark, at, figures))
  }
  if (decide(density, grade.limit) === 'not shown') {
    const said =
      detailed && isBound
        ? gradeSays['rests-on-bound'](counted, limit, boundBy)
        : undecided(counted, limit, { series, distanceM, basis: judge, mark })
    return answer('not shown', said, false)
  }
  if (stands.unclear === null) return answer('met', gradeSays.decided(counted, limit))
  return answer(
    'not shown',
    mark === undefined
      ? gradeSays['stroke-not-shown'](figures.distance(stands.unclear.distanceM))
      : gradeSays['stroke-uncertain'](counted),
  )
}

/** At or by which marks a density is told, and by which light's where that lends its constant. */
function restsOn({ fit }: Series, where: string): string {
  const lent = fit?.lent ?? null
  return lent === null ? where : `${where}, ${gradeSays['lent-by'](lent.light).message}`
}

type Reason = Pick<PromiseAnswer, 'why' | 'mend'>

function reasonOf({ message, mend }: Said): Reason {
  return { why: message, mend: mend ?? null }
}

/** The reason of a promise between the marks: that no still was measured there goes before it, and the walk that would show it behind what else helps. */
function reasonBetween(
  { distanceM, apart, figures }: Question,
  series: Series,
  said: Said,
  walkIt: boolean,
): Reason {
  const isApart = markAt({ ...series, marks: apart }, distanceM) !== undefined
  const between = gradeSays['between-marks'](figures.distance(distanceM), isApart, said.message)
  const mends = [said.mend, walkIt ? between.mend : undefined].filter((part) => part !== undefined)
  return { why: between.message, mend: mends.length === 0 ? null : mends.join(', and ') }
}

/** Why a mark tells no detail, and what to carry. */
function noDetailThere(mark: MarkMeasurement, at: string, figures: Figures): Said {
  const isChart = mark.stills.some(({ measurement }) => measurement.method === 'chart')
  const carry = mark.detailElsewhere?.reference ?? (isChart ? 'larger chart' : 'board')
  return gradeSays['no-detail-there'](noDetailWords(mark), `${at}${elsewhereWords(mark, figures)}`, carry)
}

/** From whom marks took their detail, to go on behind that. */
function takenFrom(marks: readonly MarkMeasurement[]): string {
  const lenders = lendersOf(marks)
  return lenders.length === 0 ? '' : ` (${gradeSays['detail-from'](lenders.join(', ')).message})`
}

/** Why a mark decides nothing that fits none of the others; null where it fits. */
function leftOutWords(mark: MarkMeasurement, series: Series, figures: Figures): Said | null {
  const suspect = series.fit?.suspect
  if (suspect?.mark !== mark) return null
  const fits = suspectFits(series, figures)
  return gradeSays['mark-left-out'](figures.distance(mark.distanceM), fits, suspectTurn(mark))
}

function atMarks(marks: readonly MarkMeasurement[], figures: Figures): string {
  return `at the ${figures.distances(marks.map(({ distanceM }) => distanceM))} ${marks.length > 1 ? 'marks' : 'mark'}`
}

/** What stills are wanting at a distance, beside the usable marks there are; null where none is. */
function wantedStill(evidence: Evidence, usable: readonly string[]): Said | null {
  if (evidence === 'none') return gradeSays['no-mark-holds']()
  if (evidence === 'beyond') return gradeSays['beyond-usable'](usable.at(-1)!)
  return evidence === 'nearer' ? gradeSays['nearer-than-usable'](usable[0]!) : null
}

/** Where the marks share no one detail: by those that show the grade to hold, and those that show it to fail. */
function byBrackets(
  { distanceM, grade, figures }: Question,
  rangesOfSeries: readonly RangeResult[],
  answer: (verdict: Verdict, said: Said) => PromiseAnswer,
): PromiseAnswer {
  const range = rangesOfSeries.find(({ grade: id, basis }) => id === grade.id && basis === 'detail')!
  const { from, low, high } = range
  const verdict =
    high !== null && high <= distanceM
      ? 'not met'
      : low !== null && low >= distanceM && (from ?? 0) <= distanceM
        ? 'met'
        : 'not shown'
  if (from !== null && from > distanceM) {
    return answer(verdict, gradeSays['holds-from'](figures.distance(from)))
  }
  const fails = high === null ? null : figures.distance(high)
  if (low !== null) {
    return answer(verdict, gradeSays['holds-at'](figures.distance(low), fails, verdict !== 'not shown'))
  }
  return answer(verdict, fails === null ? gradeSays['no-mark-holds']() : gradeSays['fails-at'](fails))
}
