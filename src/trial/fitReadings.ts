import { effectiveDof } from '../math/effectiveDof.js'
import type { Interval } from '../math/interval.js'
import { tQuantile } from '../math/quantiles.js'
import { seededRandom } from '../math/random.js'
import { fitReadingCurve, isTooSteep, type ReadAt, type ReadingCurve } from './readingCurve.js'

/** What one reader read of one card at one distance. */
export interface CardRead extends ReadAt {
  readonly reader: string
  readonly card: string
}

/** A curve through all answers, and others through answers drawn again: what another set of readers, and of cards, might have given. */
export interface ReadingFit {
  readonly curve: ReadingCurve
  readonly byReaders: Drawn
  readonly byCards: Drawn
}

interface Drawn {
  readonly curves: readonly ReadingCurve[]
  readonly groups: number
}

/** Draws of each. */
const DRAWS = 200
/** Draws that tell no curve, of all, beyond which there is no interval: this project's convention. */
const MOST_LOST = 0.05
const SEED = 912

/**
 * The curve of the average over readers and cards, and its bootstrap: readers are drawn again with all they read, then cards with all that was read of them (B. Efron and
 * R. Tibshirani, An Introduction to the Bootstrap (1993), chapter 8). Null where the answers tell no curve, or come from one reader or one card alone: how much readers and cards differ is then unknown.
 */
export function fitReadings(answers: readonly CardRead[], guess: number): ReadingFit | null {
  const curve = fitReadingCurve(summed(answers), guess)
  if (curve === null) return null
  const byReaders = drawn(answers, ({ reader }) => reader, curve)
  const byCards = drawn(answers, ({ card }) => card, curve)
  return byReaders && byCards && { curve, byReaders, byCards }
}

/** Whether marks lie in the fall, so that all but few draws tell how steep it is (`MOST_LOST`). Where none does, the curve's interval is too narrow: wrong in 15 of 100 trials. */
export function isSettled({ curve, byReaders, byCards }: ReadingFit): boolean {
  const curves = [...byReaders.curves, ...byCards.curves]
  return !isTooSteep(curve) && curves.filter(isTooSteep).length <= MOST_LOST * curves.length
}

/** Answers summed per distance, nearest first. */
export function summed(answers: readonly ReadAt[]): ReadAt[] {
  const marks = new Map<number, { right: number; asked: number }>()
  for (const { distanceM, right, asked } of answers) {
    const mark = marks.get(distanceM) ?? { right: 0, asked: 0 }
    marks.set(distanceM, { right: mark.right + right, asked: mark.asked + asked })
  }
  return [...marks]
    .map(([distanceM, mark]) => ({ distanceM, ...mark }))
    .sort((a, b) => a.distanceM - b.distanceM)
}

function drawn(
  answers: readonly CardRead[],
  groupOf: (answer: CardRead) => string,
  whole: ReadingCurve,
): Drawn | null {
  const names = [...new Set(answers.map(groupOf))].sort()
  if (names.length < 2) return null
  const marks = summed(answers).map(({ distanceM }) => distanceM)
  const groups = names.map((name) => summed(answers.filter((answer) => groupOf(answer) === name)))
  const random = seededRandom(SEED)
  const curves: ReadingCurve[] = []
  for (let draw = 0; draw < DRAWS; draw += 1) {
    const sums = new Map(marks.map((distanceM) => [distanceM, { distanceM, right: 0, asked: 0 }]))
    for (let one = 0; one < groups.length; one += 1)
      for (const { distanceM, right, asked } of groups[Math.floor(groups.length * random.uniform())]!) {
        const mark = sums.get(distanceM)!
        mark.right += right
        mark.asked += asked
      }
    const curve = fitReadingCurve([...sums.values()], whole.guess, whole)
    if (curve !== null) curves.push(curve)
  }
  return curves.length < (1 - MOST_LOST) * DRAWS ? null : { curves, groups: groups.length }
}

/**
 * The 95 % interval of what `figure` makes of the curve: its variances over the draws of readers and of cards, each put right for how few were drawn (n / (n - 1)), added,
 * though both hold what chance adds; times Student's t at the degrees of freedom of Welch and Satterthwaite (JCGM 100:2008, G.4).
 */
export function intervalOf(fit: ReadingFit, figure: (curve: ReadingCurve) => number): Interval {
  const parts = [fit.byReaders, fit.byCards].map((draws) => ({
    u: Math.sqrt(varianceOf(draws, figure)),
    dof: draws.groups - 1,
  }))
  const u = Math.hypot(...parts.map((part) => part.u))
  const value = figure(fit.curve)
  const reach = u === 0 ? 0 : tQuantile(0.975, effectiveDof(parts)) * u
  return { low: value - reach, high: value + reach }
}

function varianceOf({ curves, groups }: Drawn, figure: (curve: ReadingCurve) => number): number {
  const values = curves.map(figure)
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length
  const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0)
  return (squares / (values.length - 1)) * (groups / (groups - 1))
}
