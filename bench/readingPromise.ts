import { fitReadings } from '../src/trial/fitReadings.js'
import { shareAt } from '../src/trial/shareAt.js'
import { GUESS, simulatedAnswers, trueDistance } from '../tests/support/simulatedReaders.js'

// How often a promise that 95 % are read is wrongly met, or wrongly not met, where just 95 % are read in truth, and how often it is decided where more or fewer are: the
// interval of the share against 95 %, readers and cards as in readingTrial. Arguments: trials of each [300], one case.

const trials = Number(process.argv[2] ?? 300)
const only = process.argv[3]
const SHARE = 0.95
const truthM = trueDistance(SHARE)
const IN_THE_FALL = [0.7, 0.85, 1, 1.15, 1.3, 1.45, 1.6, 1.8]
/** Marks as shares of the distance at which 95 % are read in truth. */
const CASES = [
  { readers: 5, cards: 12, cardsAMark: 3, marks: IN_THE_FALL },
  { readers: 3, cards: 12, cardsAMark: 3, marks: IN_THE_FALL },
  { readers: 2, cards: 2, cardsAMark: 2, marks: IN_THE_FALL },
  { readers: 5, cards: 12, cardsAMark: 3, marks: [0.5, 0.75, 1, 1.5, 2] },
  { readers: 5, cards: 12, cardsAMark: 3, marks: [0.5, 1, 2] },
  { readers: 3, cards: 6, cardsAMark: 2, marks: [0.8, 1.1, 1.4, 1.7] },
  { readers: 5, cards: 12, cardsAMark: 3, marks: [0.6, 0.8, 1] },
  { readers: 5, cards: 12, cardsAMark: 3, marks: [1, 1.05, 1.1] },
  { readers: 5, cards: 3, cardsAMark: 3, marks: [1] },
  { readers: 5, cards: 12, cardsAMark: 12, marks: [1] },
  { readers: 2, cards: 2, cardsAMark: 2, marks: [1] },
  { readers: 12, cards: 12, cardsAMark: 12, marks: [1] },
]
/** Where the promise is, as such a share too. A lone mark goes with it. */
const PROMISED = [0.75, 1, 1.3]
const percent = (count: number): string => ((100 * count) / trials).toFixed(1).padStart(8)

console.log(
  'verdicts in % on a promise that 95 % are read, at shares of the distance to which they are read in truth',
)
console.log('readers cards a mark  marks             0.75: met |   1: met  not met | 1.3: not met')
for (const each of only === undefined ? CASES : [CASES[Number(only)]!]) {
  const isLone = each.marks.length === 1
  const verdicts = PROMISED.map(() => ({ met: 0, not: 0 }))
  for (let trial = 0; trial < trials; trial += 1) {
    const read = (by: number) => {
      const answers = simulatedAnswers(
        { ...each, marksM: each.marks.map((mark) => by * mark * truthM) },
        5000 + trial,
      )
      return { answers, fit: fitReadings(answers, GUESS) }
    }
    const once = read(1)
    for (const [index, promised] of PROMISED.entries()) {
      const { answers, fit } = isLone ? read(promised) : once
      const { low, high } = shareAt(promised * truthM, fit, answers)
      if (low >= SHARE) verdicts[index]!.met += 1
      if (high < SHARE) verdicts[index]!.not += 1
    }
  }
  const [nearer, at, farther] = verdicts as [Verdicts, Verdicts, Verdicts]
  console.log(
    `${String(each.readers).padStart(7)}${String(each.cards).padStart(6)}${String(each.cardsAMark).padStart(7)}  ${`${each.marks.length}: ${each.marks[0]} to ${each.marks.at(-1)}`.padEnd(16)}` +
      `${percent(nearer.met).padStart(11)} |${percent(at.met).padStart(9)}${percent(at.not).padStart(9)} |${percent(farther.not).padStart(13)}`,
  )
}

interface Verdicts {
  readonly met: number
  readonly not: number
}
