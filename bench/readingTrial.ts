import { fitReadings, intervalOf } from '../src/trial/fitReadings.js'
import { distanceWhere } from '../src/trial/readingCurve.js'
import { GUESS, simulatedAnswers, trueDistance } from '../tests/support/simulatedReaders.js'

// How often the intervals of the distances hold the truth, and how wide they are, with readers of known curves: ten marks, cards of seven letters, readers and
// cards 10 % apart in distance, lapses of 0 to 4 %. Arguments: trials of each [300], one case.

const trials = Number(process.argv[2] ?? 300)
const only = process.argv[3]
const IN_THE_FALL = [6, 6.7, 7.5, 8.4, 9.3, 10.4, 11.6, 13, 14.5, 16]
const FAR_APART = [4, 5, 6, 7.5, 9, 11, 13, 16, 20, 24]
const CASES = [
  { readers: 5, cards: 12, cardsAMark: 3, marksM: IN_THE_FALL },
  { readers: 5, cards: 12, cardsAMark: 3, marksM: FAR_APART },
  { readers: 5, cards: 30, cardsAMark: 3, marksM: IN_THE_FALL },
  { readers: 5, cards: 3, cardsAMark: 3, marksM: IN_THE_FALL },
  { readers: 5, cards: 10, cardsAMark: 1, marksM: IN_THE_FALL },
  { readers: 3, cards: 12, cardsAMark: 3, marksM: IN_THE_FALL },
  { readers: 10, cards: 12, cardsAMark: 3, marksM: IN_THE_FALL },
]
const percent = (share: number): string => (100 * share).toFixed(1).padStart(6)

for (const share of [0.95, 0.5]) {
  const truth = trueDistance(share)
  console.log(`distance where ${100 * share} % are read: in truth ${truth.toFixed(2)} m`)
  console.log(
    'marks, m   readers  cards  a mark   covered, %   too near, %   too far, %   width, %   off, %   none',
  )
  for (const each of only === undefined ? CASES : [CASES[Number(only)]!]) {
    const seen = Array.from({ length: trials }, (_, trial) => {
      const fit = fitReadings(simulatedAnswers(each, 1000 + trial), GUESS)
      if (fit === null) return null
      const { low, high } = intervalOf(fit, (curve) => Math.log(distanceWhere(curve, share)))
      return { low: Math.exp(low), high: Math.exp(high), value: distanceWhere(fit.curve, share) }
    }).filter((one) => one !== null)
    const of = (holds: (one: (typeof seen)[number]) => boolean): string =>
      percent(seen.filter(holds).length / seen.length).padStart(13)
    const mean = (figure: (one: (typeof seen)[number]) => number): string =>
      percent(seen.reduce((sum, one) => sum + figure(one), 0) / seen.length).padStart(11)
    console.log(
      `${`${each.marksM[0]} to ${each.marksM.at(-1)}`.padEnd(8)}${String(each.readers).padStart(10)}${String(each.cards).padStart(7)}${String(each.cardsAMark).padStart(8)}` +
        of(({ low, high }) => low <= truth && truth <= high) +
        of(({ high }) => high < truth) +
        of(({ low }) => low > truth) +
        mean(({ low, high, value }) => (high - low) / value) +
        mean(({ value }) => value / truth - 1) +
        String(trials - seen.length).padStart(7),
    )
  }
}
