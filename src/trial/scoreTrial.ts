import { groupBy } from '../math/groupBy.js'
import type { Estimate } from '../math/interval.js'
import { charactersRight } from './charactersRight.js'
import { fitReadings, intervalOf, isSettled, summed, type ReadingFit } from './fitReadings.js'
import { distanceWhere, type ReadAt } from './readingCurve.js'
import { shareAt } from './shareAt.js'
import { wilson } from './wilson.js'

/** An answer with where its picture was taken. */
export interface PlacedAnswer {
  readonly reader: string
  /** What was shown, by a name of its own: a row of a still. */
  readonly crop: string
  readonly light: string
  readonly reference: string
  readonly row: 'full' | 'faint' | 'text'
  readonly distanceM: number
  readonly shown: string
  /** Null for "cannot tell". */
  readonly answered: string | null
  readonly again: boolean
}

/** Characters right of those asked, and the 95 % interval of their share, each taken for itself. */
interface Score {
  readonly right: number
  readonly asked: number
  readonly share: number
  readonly low: number
  readonly high: number
}

/** What one reader did. */
interface ReaderScore extends Score {
  readonly reader: string
  /** Crops answered, and of these "cannot tell". */
  readonly crops: number
  readonly untold: number
  /** Share of characters answered the same where a crop was shown again; null where none was. */
  readonly steady: number | null
}

/** A distance, metres, with its 95 % interval. */
type ReadDistance = { readonly distance: number; readonly low: number; readonly high: number }

/** The curve through all answers: see `ReadingCurve`. */
interface ScoredCurve {
  readonly guess: number
  readonly half: number
  readonly steepness: number
}

/** What was read of one reference's row in one light; distances metres. */
export interface ReadingScore {
  readonly light: string
  readonly reference: string
  readonly row: PlacedAnswer['row']
  readonly marks: readonly (Score & { readonly distance: number })[]
  readonly readers: readonly ReaderScore[]
  /** Different texts that were read. */
  readonly cards: number
  /** Share of characters on which two readers of the same crop agree, over all pairs; null for one reader. */
  readonly agreement: number | null
  readonly curve: ScoredCurve | null
  /** Where the average over readers and cards falls to half and to 95 %; null where no mark lies beyond it, or none before it, or too few readers and cards tell. */
  readonly read50: ReadDistance | null
  readonly read95: ReadDistance | null
  /** The share read at distances that something is promised at, metres: see `shareAt`. */
  readonly promised: readonly (Estimate & { readonly distance: number })[]
}

/**
 * Scores a trial: characters right per mark and reader, and where reading fails, per light, reference and row. `guessOf`: the share that guessing gets right; `promisedM`: the
 * distances, metres, that something is promised at in a light.
 */
export function scoreTrial(
  answers: readonly PlacedAnswer[],
  guessOf: (row: PlacedAnswer['row']) => number,
  promisedM: (light: string) => readonly number[] = () => [],
): ReadingScore[] {
  const groups = groupBy(answers, ({ light, reference, row }) => JSON.stringify([light, reference, row]))
  return [...groups.values()].map((group) =>
    scoreRow(group, guessOf(group[0]!.row), promisedM(group[0]!.light)),
  )
}

function scoreRow(all: readonly PlacedAnswer[], guess: number, promisedM: readonly number[]): ReadingScore {
  const { light, reference, row } = all[0]!
  const first = all.filter(({ again }) => !again)
  const cards = first.map((answer) => ({
    reader: answer.reader,
    card: answer.shown,
    distanceM: answer.distanceM,
    right: charactersRight(answer.shown, answer.answered),
    asked: answer.shown.length,
  }))
  const fit = fitReadings(cards, guess)
  const counts = summed(cards)
  const marks = counts.map((mark) => ({ distance: mark.distanceM, ...scoreOf(mark.right, mark.asked) }))
  const names = [...new Set(first.map(({ reader }) => reader))].sort()
  return {
    light,
    reference,
    row,
    marks,
    readers: names.map((reader) =>
      readerScore(
        reader,
        all.filter((answer) => answer.reader === reader),
      ),
    ),
    cards: new Set(cards.map(({ card }) => card)).size,
    agreement: agreementOf(first),
    curve: fit && { guess, half: fit.curve.halfM, steepness: fit.curve.steepness },
    read50: fit && readAt(fit, counts, 0.5),
    read95: fit && readAt(fit, counts, 0.95),
    promised: promisedM.map((distance) => ({ distance, ...shareAt(distance, fit, cards) })),
  }
}

function scoreOf(right: number, asked: number): Score {
  return { right, asked, share: right / asked, ...wilson(right, asked) }
}

function readerScore(reader: string, all: readonly PlacedAnswer[]): ReaderScore {
  const first = all.filter(({ again }) => !again)
  const right = first.reduce((sum, { shown, answered }) => sum + charactersRight(shown, answered), 0)
  const asked = first.reduce((sum, { shown }) => sum + shown.length, 0)
  const pairs = all.flatMap((one): [PlacedAnswer, PlacedAnswer][] => {
    const before = one.again ? first.find(({ crop }) => crop === one.crop) : undefined
    return before === undefined ? [] : [[before, one]]
  })
  return {
    reader,
    crops: first.length,
    untold: first.filter(({ answered }) => answered === null).length,
    ...scoreOf(right, asked),
    steady: sameShare(pairs),
  }
}

function agreementOf(first: readonly PlacedAnswer[]): number | null {
  const pairs = [...groupBy(first, ({ crop }) => crop).values()].flatMap((answers) =>
    answers.flatMap((one, index) =>
      answers.slice(index + 1).map((other): [PlacedAnswer, PlacedAnswer] => [one, other]),
    ),
  )
  return sameShare(pairs)
}

/** Share of characters that are the same in both answers of each pair; a character that is not told is none. */
function sameShare(pairs: readonly (readonly [PlacedAnswer, PlacedAnswer])[]): number | null {
  let [same, all] = [0, 0]
  for (const [one, other] of pairs) {
    const [a, b] = [one.answered ?? '', other.answered ?? '']
    const letters = one.shown.length
    all += letters
    for (let at = 0; at < letters; at += 1) if ((a[at] ?? '?') === (b[at] ?? '?')) same += 1
  }
  return all === 0 ? null : same / all
}

/** Where the curve falls to a share, between the nearest mark and the farthest; null elsewhere. */
function readAt(fit: ReadingFit, counts: readonly ReadAt[], share: number): ReadDistance | null {
  const distance = distanceWhere(fit.curve, share)
  const [nearest, farthest] = [counts[0]!.distanceM, counts.at(-1)!.distanceM]
  if (!(distance >= nearest && distance <= farthest)) return null
  const log = intervalOf(fit, (curve) => Math.log(distanceWhere(curve, share)))
  const interval = { value: distance, low: Math.exp(log.low), high: Math.exp(log.high) }
  const { low, high } = isSettled(fit) ? interval : withNeighbours(interval, counts)
  return { distance, low, high }
}

/** Where no mark lies in the fall it may be anywhere between the two around it. */
function withNeighbours({ value, low, high }: Estimate, counts: readonly ReadAt[]): Estimate {
  const before = counts.filter(({ distanceM }) => distanceM <= value).at(-1)!.distanceM
  const after = counts.find(({ distanceM }) => distanceM >= value)!.distanceM
  return { value, low: Math.min(low, before), high: Math.max(high, after) }
}
