import type { Estimate } from '../../math/interval.js'
import { decide } from '../gradings/decide.js'
import type { Grade, Grading } from '../gradings/grading.js'
import type { Basis, Verdict } from '../judgement.js'
import type { MarkMeasurement } from '../marks/markMeasurement.js'
import { markStandsOut } from '../marks/markStands.js'
import { detailMend, noDetailWords, suspectMend, unusableWords } from '../marks/markWords.js'
import { type Series, tapedM } from '../range/series.js'
import { isTurned } from '../marks/turned.js'
import type { Wording } from '../wording.js'

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
  say: Wording,
): PromiseAnswer {
  const at = `at the ${say.length(mark.distanceM)} mark`
  const suspect = series.fit?.suspect
  if (suspect?.mark === mark) {
    const why = `the ${say.length(mark.distanceM)} mark fits ${say.length(tapedM(series, suspect.fitsM))} by the others and is left out: ${suspectMend(mark)}, and walk it again`
    return { verdict: 'not shown', byPixels: 'not shown', density: null, why }
  }
  const turnedWords = `${mark.reference} turned ${Math.round(mark.turnDeg ?? 0)} degrees ${at}: walk it again, held square to the camera`
  const turnedByPixels = isTurned(mark, mark.onTarget, grade.limit)
  const byPixels = turnedByPixels ? 'not shown' : decide(mark.onTarget, grade.limit)
  const density = judge === 'pixels' ? mark.onTarget : mark.effectiveDensity
  const answer = (verdict: Verdict, why: string): PromiseAnswer => ({ verdict, byPixels, density, why })

  const stands = markStandsOut(mark, grade, grading)
  if (stands === 'not met') return answer('not met', `${unusableWords(mark, grading)} ${at}`)
  if (density === null) {
    return answer('not shown', `${noDetailWords(mark)} ${at}: ${detailMend(mark)}`)
  }
  const share = judge === 'pixels' ? 1 : (mark.factor?.value ?? 1)
  if (isTurned(mark, density, grade.limit, share)) return answer('not shown', turnedWords)

  const verdict = decide(density, grade.limit)
  const counted = `${say.interval(density)}${judge === 'detail' ? ' with detail' : ''} ${at}`
  if (verdict === 'met' && stands === 'not shown') {
    return answer('not shown', `${counted}, but whether a stroke stands out from the noise is not certain`)
  }
  if (verdict === 'not shown') {
    return answer(verdict, `${counted}, ${say.limit(grade.limit)} lies between: ${mendForWidth(mark)}`)
  }
  return answer(verdict, `${counted}, ${say.limit(grade.limit)} needed`)
}

function mendForWidth(mark: MarkMeasurement): string {
  const byHand = mark.stills.some(({ measurement }) => measurement.budget.horizontal?.clickBiasRel)
  return byHand
    ? 'click closer, on the enlarged still, or carry a larger board'
    : 'carry a larger board, or take more stills there'
}
