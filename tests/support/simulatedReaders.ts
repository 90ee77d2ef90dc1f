import { seededRandom } from '../../src/math/random.js'
import type { CardRead } from '../../src/trial/fitReadings.js'

/** Readers of known curves: what is true of their average, and what they answered in one trial. */
export interface SimulatedTrial {
  readonly readers: number
  readonly marksM: readonly number[]
  /** Cards in all; those of a mark are taken in turn. */
  readonly cards: number
  readonly cardsAMark: number
}

/** Cards are carried in turn by so many, so that none goes with certain marks only. */
const CARD_STEP = 7
const LETTERS = 7
export const GUESS = 1 / 18
const HALF_M = 12
/** One reader falls from 95 to 50 % within a third of distance. */
const STEEPNESS = 12
/** Readers and cards differ by so much of distance (normal in its logarithm). */
const APART = 0.1
/** Readers' lapses are even from 0 to this. */
const MOST_LAPSE = 0.04

/** The distance at which the average over all readers and cards there could be falls to a share: by 200,000 of them, then halving. */
export function trueDistance(share: number): number {
  const random = seededRandom(1)
  const people = Array.from({ length: 200_000 }, () => ({
    half: HALF_M * Math.exp(APART * Math.SQRT2 * random.normal()),
    lapse: MOST_LAPSE * random.uniform(),
  }))
  const mean = (distanceM: number): number =>
    people.reduce((sum, { half, lapse }) => sum + readShare(distanceM, half, lapse), 0) / people.length
  let [near, far] = [HALF_M / 4, HALF_M * 2]
  for (let step = 0; step < 24; step += 1) {
    const middle = Math.sqrt(near * far)
    if (mean(middle) > share) near = middle
    else far = middle
  }
  return Math.sqrt(near * far)
}

function readShare(distanceM: number, halfM: number, lapse: number): number {
  return GUESS + (1 - GUESS - lapse) / (1 + (distanceM / halfM) ** STEEPNESS)
}

/** The answers of one trial. */
export function simulatedAnswers(trial: SimulatedTrial, seed: number): CardRead[] {
  const random = seededRandom(seed)
  const shift = (): number => Math.exp(APART * random.normal())
  const cards = Array.from({ length: trial.cards }, shift)
  const readers = Array.from({ length: trial.readers }, () => ({
    shift: shift(),
    lapse: MOST_LAPSE * random.uniform(),
  }))
  return readers.flatMap((reader, r) =>
    trial.marksM.flatMap((distanceM, mark) =>
      Array.from({ length: trial.cardsAMark }, (_, index) => {
        const card = (CARD_STEP * (mark * trial.cardsAMark + index)) % trial.cards
        const share = readShare(distanceM, HALF_M * reader.shift * cards[card]!, reader.lapse)
        let right = 0
        for (let letter = 0; letter < LETTERS; letter += 1) right += random.uniform() < share ? 1 : 0
        return { reader: `reader ${r}`, card: `card ${card}`, distanceM, right, asked: LETTERS }
      }),
    ),
  )
}
