import { dampedDescent, lazyLook, type LazyLook } from '../math/dampedDescent.js'
import type { NormalEquations } from '../math/normalEquations.js'
import { power } from '../math/power.js'

/** Characters read right at a distance, of those asked there. */
export interface ReadAt {
  readonly distanceM: number
  readonly right: number
  readonly asked: number
}

/**
 * How reading falls with distance d: guess + (1 - guess - LAPSE) / (1 + (d / halfM)^steepness), a logistic in the logarithm of distance between the share that
 * guessing gets right and all but the lapses.
 */
export interface ReadingCurve {
  readonly guess: number
  readonly halfM: number
  readonly steepness: number
}

/** Characters missed however near: this project's convention. */
const LAPSE = 0.02
/** What is read however near. */
export const MOST_SHARE = 1 - LAPSE
/** The steepest curve, which falls from 95 to 50 % within about 5 % of distance; what is steeper only says that no mark lies in the fall. This project's convention. */
const STEEPEST = 70
/** Steepness the search starts from; the best of them leads. */
const STARTS = [4, 10, 25]
const MOST_STEPS = 100
/** A step that moves both logarithms by less than this is the last. */
const SETTLED = 1e-9

/** Whether no mark lies in the fall, so that it may be anywhere between two. */
export function isTooSteep({ steepness }: ReadingCurve): boolean {
  return steepness > 0.99 * STEEPEST
}

/** The distance, metres, at which a curve falls to a share between its guesses and its lapses. */
export function distanceWhere({ guess, halfM, steepness }: ReadingCurve, share: number): number {
  return halfM * power((1 - LAPSE - share) / (share - guess), 1 / steepness)
}

/** The share that a curve has at a distance, metres. */
export function shareWhere({ guess, halfM, steepness }: ReadingCurve, distanceM: number): number {
  return guess + (MOST_SHARE - guess) / (1 + power(distanceM / halfM, steepness))
}

/** A share just above guesses, where distances have no end. */
export function leastShare({ guess }: ReadingCurve): number {
  return guess + 1e-6
}

/**
 * The curve of greatest likelihood for the counts, sought from `near` or from the best of a few, each answer right by itself with the curve's share (binomial), by Fisher's scoring, damped (R. A. Fisher, Annals of
 * Eugenics 7 (1937) 165). Null where the counts do not tell where reading falls: at one distance alone, or all right, or none but guesses.
 */
export function fitReadingCurve(
  marks: readonly ReadAt[],
  guess: number,
  near: ReadingCurve | null = null,
): ReadingCurve | null {
  const counted = marks.filter(({ asked }) => asked > 0)
  if (new Set(counted.map(({ distanceM }) => distanceM)).size < 2) return null
  const logs = counted.map(({ distanceM }) => Math.log(distanceM))
  const look = (state: State): LazyLook =>
    lazyLook(deviance(counted, logs, guess, state), () => scoring(counted, logs, guess, state))
  const start: State =
    near === null ? likeliest(counted, logs, guess) : [Math.log(near.halfM), Math.log(near.steepness)]
  const { end, state } = dampedDescent<State, LazyLook>({
    start,
    mostSteps: MOST_STEPS,
    look,
    moved: ([half, steep], step) => [half + step[0]!, Math.min(Math.log(STEEPEST), steep + step[1]!)],
    isSettled: ({ step }) => Math.abs(step[0]!) + Math.abs(step[1]!) < SETTLED,
  })
  const [half, steep] = state
  const reach = Math.log(2)
  const isSeen = half > Math.min(...logs) - reach && half < Math.max(...logs) + reach
  if (end === 'nowhere' || end === 'not-determined' || !isSeen) return null
  return { guess, halfM: Math.exp(half), steepness: Math.exp(steep) }
}

function likeliest(marks: readonly ReadAt[], logs: readonly number[], guess: number): State {
  let best: State = [logs[0]!, Math.log(STARTS[0]!)]
  let least = Infinity
  for (const half of logs)
    for (const steepness of STARTS) {
      const state: State = [half, Math.log(steepness)]
      const sum = deviance(marks, logs, guess, state)
      if (sum < least) [best, least] = [state, sum]
    }
  return best
}

/** Logarithms of `halfM` and of `steepness`. */
type State = readonly [number, number]

function shareOf(log: number, guess: number, [half, steep]: State): { share: number; slope: number } {
  const rise = 1 / (1 + Math.exp(Math.exp(steep) * (log - half)))
  const height = 1 - guess - LAPSE
  return { share: guess + height * rise, slope: height * rise * (1 - rise) }
}

/** Twice the log-likelihood lacking to a perfect fit. */
function deviance(marks: readonly ReadAt[], logs: readonly number[], guess: number, state: State): number {
  let sum = 0
  for (const [i, { right, asked }] of marks.entries()) {
    const { share } = shareOf(logs[i]!, guess, state)
    const wrong = asked - right
    if (right > 0) sum += 2 * right * Math.log(right / (asked * share))
    if (wrong > 0) sum += 2 * wrong * Math.log(wrong / (asked * (1 - share)))
  }
  return sum
}

/** Expected information and score: what Gauss and Newton's equations are to a sum of squares. */
function scoring(
  marks: readonly ReadAt[],
  logs: readonly number[],
  guess: number,
  state: State,
): NormalEquations {
  const matrix = new Float64Array(4)
  const right = new Float64Array(2)
  const [half, steep] = state
  const steepness = Math.exp(steep)
  for (const [i, mark] of marks.entries()) {
    const { share, slope } = shareOf(logs[i]!, guess, state)
    const slopes = [slope * steepness, slope * steepness * (half - logs[i]!)]
    const weight = 1 / (share * (1 - share))
    for (let a = 0; a < 2; a += 1) {
      right[a]! += weight * (mark.right - mark.asked * share) * slopes[a]!
      for (let b = 0; b < 2; b += 1) matrix[2 * a + b]! += weight * mark.asked * slopes[a]! * slopes[b]!
    }
  }
  return { matrix, right }
}
