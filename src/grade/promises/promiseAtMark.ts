import type { Estimate } from '../../math/interval.js'
import { roundNumbers } from '../../units/roundNumbers.js'
import type { Said } from '../../sentences.js'
import type { Figures } from '../../units/figures.js'
import { decide } from '../gradings/decide.js'
import type { Grade, Grading } from '../gradings/grading.js'
import type { Basis, Verdict } from '../judgement.js'
import type { MarkMeasurement } from '../marks/markMeasurement.js'
import { markStandsOut } from '../marks/markStands.js'
import { noDetailWords, suspectTurn, turnWords, unusableWords } from '../marks/markWords.js'
import { type Series, tapedM } from '../range/series.js'
import { isTurned } from '../marks/turned.js'
import { gradeSays } from '../sentences.js'

/** What became of a promise in one series; densities px/m at its distance. */
export interface PromiseAnswer {
  readonly verdict: Verdict
  readonly byPixels: Verdict
  readonly density: Estimate | null
  readonly why: string
}

/** Judges a promise by the mark that stands at its distance. */
export function promiseAtMark(
  mark: MarkMeasurement,
  series: Series,
  grade: Grade,
  grading: Grading,
  judge: Basis,
  figures: Figures,
): PromiseAnswer {
  const at = `at the ${figures.distance(mark.distanceM)} mark`
  const suspect = series.fit?.suspect
  if (suspect?.mark === mark) {
    const fits = figures.distance(tapedM(series, suspect.fitsM))
    const { message } = gradeSays['mark-left-out'](figures.distance(mark.distanceM), fits, suspectTurn(mark))
    return { verdict: 'not shown', byPixels: 'not shown', density: null, why: message }
  }
  const turnedByPixels = isTurned(mark, mark.onTarget, grade.limit)
  const byPixels = turnedByPixels ? 'not shown' : decide(mark.onTarget, grade.limit)
  const density = judge === 'pixels' ? mark.onTarget : mark.effectiveDensity
  const answer = (verdict: Verdict, { message }: Said): PromiseAnswer => ({
    verdict,
    byPixels,
    density,
    why: message,
  })

  const stands = markStandsOut(mark, grade, grading)
  if (stands === 'not met') {
    return answer('not met', gradeSays['nothing-stands-out-there'](unusableWords(mark, grading), at))
  }
  if (density === null) {
    const isChart = mark.stills.some(({ measurement }) => measurement.method === 'chart')
    const carry = isChart ? 'larger chart' : 'board'
    return answer('not shown', gradeSays['no-detail-there'](noDetailWords(mark), at, carry))
  }
  const share = judge === 'pixels' ? 1 : (mark.factor?.value ?? 1)
  if (isTurned(mark, density, grade.limit, share)) {
    return answer('not shown', gradeSays['turned-there'](mark.reference, turnWords(mark), at))
  }

  const verdict = decide(density, grade.limit)
  // Of the numbers that results keep, as the tables beside it print.
  const interval = `${figures.interval(roundNumbers(density))} ${figures.densityUnit}`
  const counted = `${interval}${judge === 'detail' ? ' with detail' : ''} ${at}`
  if (verdict === 'met' && stands === 'not shown') {
    return answer('not shown', gradeSays['stroke-uncertain'](counted))
  }
  const limit = figures.isMetric ? figures.bareLimit(grade.limit) : figures.limit(grade.limit)
  if (verdict !== 'not shown') return answer(verdict, gradeSays.decided(counted, limit))
  const byHand = mark.stills.some(({ measurement }) => !!measurement.budget.horizontal?.clickBiasRel)
  return answer(verdict, gradeSays.undecided(counted, limit, byHand))
}
