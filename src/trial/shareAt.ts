import { effectiveDof } from '../math/effectiveDof.js'
import { groupBy } from '../math/groupBy.js'
import type { Estimate, Interval } from '../math/interval.js'
import { tQuantile } from '../math/quantiles.js'
import { type CardRead, intervalOf, isSettled, type ReadingFit } from './fitReadings.js'
import { distanceWhere, leastShare, MOST_SHARE, shareWhere } from './readingCurve.js'
import { wilson } from './wilson.js'

/**
 * How many characters of a card count as one that is read by itself, at least: those of one card and reader go right together. This project's convention, set on
 * simulated readers (`bench/readingPromise.ts`).
 */
const ALIKE = 2
/** Standard deviation of readers' lapses, which the curve takes to be alike: even from 0 to 4 %, as in the simulated trials. This project's convention. */
const LAPSES_U = 0.04 / Math.sqrt(12)
/** Halvings by which an end of a share is found. */
const HALVINGS = 30

/**
 * The share of characters that is read at a distance, metres, on average over readers and cards, and its 95 % interval: by the curve where marks lie in its fall, and then its
 * ends are the shares whose own distances end there, wider by what readers' lapses leave open; else by the marks, as reading only falls with distance. Nearer than all marks it is that of the nearest, beyond them
 * that of the farthest.
 */
export function shareAt(distanceM: number, fit: ReadingFit | null, answers: readonly CardRead[]): Estimate {
  const marks = answers.map((answer) => answer.distanceM)
  const atM = Math.min(Math.max(...marks), Math.max(Math.min(...marks), distanceM))
  if (fit === null || !isSettled(fit)) return shareOfMarks(atM, answers)
  const value = shareWhere(fit.curve, atM)
  const reaches = (share: number, end: keyof Interval): boolean =>
    intervalOf(fit, (curve) => Math.log(distanceWhere(curve, share)))[end] >= Math.log(atM)
  const lapses = (2 * LAPSES_U) / Math.sqrt(new Set(answers.map(({ reader }) => reader)).size)
  return {
    value,
    low: Math.max(0, value - Math.hypot(value - endOf('low'), lapses)),
    high: Math.min(1, value + Math.hypot(endOf('high') - value, lapses)),
  }

  /** The greatest share whose distance's end lies there or farther out. */
  function endOf(end: keyof Interval): number {
    let [least, most] = [leastShare(fit!.curve), MOST_SHARE]
    for (let step = 0; step < HALVINGS; step += 1) {
      const middle = (least + most) / 2
      if (reaches(middle, end)) least = middle
      else most = middle
    }
    return end === 'low' ? Math.min(least, value) : Math.max(least, value)
  }
}

/** What a distance's own marks and those beyond show it to be at least, its own and those nearer at most; of each the marks that tell most. */
function shareOfMarks(distanceM: number, answers: readonly CardRead[]): Estimate {
  const marks = [...groupBy(answers, (answer) => answer.distanceM)].sort(([a], [b]) => a - b)
  const outward = marks.filter(([markM]) => markM >= distanceM)
  const inward = marks.filter(([markM]) => markM <= distanceM).reverse()
  const low = Math.max(...pools(outward).map((pool) => pool.low))
  const high = Math.min(...pools(inward).map((pool) => pool.high))
  const [[, next]] = marks.toSorted(([a], [b]) => Math.abs(a - distanceM) - Math.abs(b - distanceM)) as [
    (typeof marks)[number],
  ]
  const value = shareOf(next)
  return { value, low: Math.min(low, value), high: Math.max(high, value) }
}

/** The intervals of the first mark, of the first two together, and so on. */
function pools(marks: readonly (readonly [number, readonly CardRead[]])[]): Interval[] {
  return marks.map((_, last) => groupedInterval(marks.slice(0, last + 1).flatMap(([, answers]) => answers)))
}

/** Wilson's interval for as many characters as would scatter alone as readers and cards do, by Student's t for their number. */
function groupedInterval(answers: readonly CardRead[]): Interval {
  const share = shareOf(answers)
  const parts = [({ reader }: CardRead) => reader, ({ card }: CardRead) => card].map((groupOf) => {
    const shares = [...groupBy(answers, groupOf).values()].map(shareOf)
    const squares = shares.reduce((sum, one) => sum + (one - share) ** 2, 0)
    const dof = Math.max(1, shares.length - 1)
    return { u: Math.sqrt(squares / dof / shares.length), dof }
  })
  const u = Math.hypot(...parts.map((part) => part.u))
  const alone = (share * (1 - share)) / u ** 2
  const counted = Math.min(
    answers.reduce((sum, { asked }) => sum + asked, 0) / ALIKE,
    u > 0 ? alone : Infinity,
  )
  return wilson(share * counted, counted, u > 0 ? tQuantile(0.975, effectiveDof(parts)) : undefined)
}

function shareOf(answers: readonly CardRead[]): number {
  const sum = (of: (answer: CardRead) => number): number =>
    answers.reduce((all, answer) => all + of(answer), 0)
  return sum(({ right }) => right) / sum(({ asked }) => asked)
}
