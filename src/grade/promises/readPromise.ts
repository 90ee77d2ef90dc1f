import type { ReadingScore } from '../../trial/scoreTrial.js'
import type { Said } from '../../sentences.js'
import type { Figures } from '../../units/figures.js'
import { shareText } from '../../units/printedShare.js'
import { decide } from '../gradings/decide.js'
import type { PromiseResult, Verdict, WalkPromise } from '../judgement.js'
import { ONE_MARK_M } from '../marks/markMeasurement.js'
import { gradeSays } from '../sentences.js'
import { evidenceAt } from './evidence.js'
import { byWorst } from './verdictOrder.js'

/** What was read of one thing, as it is judged. */
export type JudgedReading = Pick<
  ReadingScore,
  'light' | 'reference' | 'row' | 'marks' | 'readers' | 'cards' | 'promised' | 'read95'
> & { readonly walkerRead: boolean }

/** A promise that text is read. */
export type ReadPromise = WalkPromise & { readonly kind: 'read'; readonly read: number }

/** What reading is held against. */
export interface ReadingEvidence {
  readonly readings: readonly JudgedReading[]
  /** Of a mark's distance, metres. */
  readonly toleranceM: number
  readonly figures: Figures
}

/** What pixels say where text is read; `explains` in words, null where no grade is promised beside it. */
export type PixelsThere = Pick<PromiseResult, 'byPixels' | 'onOtherBasis'> & {
  readonly explains: string | null
}

interface ReadAnswer {
  readonly reading: JudgedReading
  readonly verdict: Verdict
  readonly why: string
  readonly mend: string | null
  readonly share: JudgedReading['promised'][number] | null
  /** Too few read, or too few texts, for any verdict. */
  readonly isTooFew: boolean
}

/** Fewer of either show nothing of others. This project's convention. */
const LEAST_READERS = 2
const LEAST_CARDS = 2

export function isReadPromise(promise: WalkPromise): promise is ReadPromise {
  return promise.kind === 'read' && promise.read !== undefined
}

/**
 * Judges a promise that a share of characters is read, by the interval of the share that readers read at its distance, on average over readers and texts: of black
 * letters and of plates; the worst decides. `pixelsOf` tells what pixels say there of a reference, which explains and decides nothing.
 */
export function judgeReadPromise(
  promise: ReadPromise,
  evidence: ReadingEvidence,
  pixelsOf: (reference: string | null) => PixelsThere,
): PromiseResult {
  const { light, distanceM, read, reference } = promise
  const asked = evidence.readings.filter(
    (one) =>
      one.light === light && one.row !== 'faint' && (reference === undefined || one.reference === reference),
  )
  const all = asked.map((reading) => answerRead(promise, reading, evidence))
  // Too few readers of one thing leave another's answer standing, unless what they could not read speaks against it.
  const enough = all.filter(
    ({ isTooFew, share }) => !isTooFew || (share !== null && decide(share, read) === 'not met'),
  )
  const [worst] = (enough.length > 0 ? enough : all).toSorted(byWorst)
  const decidedBy = worst?.reading.reference ?? null
  const { explains, ...pixels } = pixelsOf(decidedBy ?? reference ?? null)
  const nothing = gradeSays['read-nothing'](reference, light, evidence.figures.distance(distanceM))
  const { why, mend } = worst ?? { why: nothing.message, mend: nothing.mend ?? null }
  return {
    grade: null,
    distance: distanceM,
    light,
    reference: reference ?? null,
    basis: 'reading',
    verdict: worst?.verdict ?? 'not shown',
    value: worst?.share?.value ?? null,
    low: worst?.share?.low ?? null,
    high: worst?.share?.high ?? null,
    limit: read,
    ...pixels,
    decidedBy,
    why: explains === null ? why : `${why}. ${explains}`,
    mend,
    task: promise.task ?? null,
    what: promise.what ?? null,
    kind: 'read',
  }
}

function answerRead(
  { distanceM, read }: ReadPromise,
  reading: JudgedReading,
  { toleranceM, figures }: ReadingEvidence,
): ReadAnswer {
  const { marks, readers, cards, row, reference, promised } = reading
  const share = promised.find((one) => Math.abs(one.distance - distanceM) <= ONE_MARK_M) ?? null
  const many = countReaders(readers)
  const isTooFew = many < LEAST_READERS || cards < LEAST_CARDS
  const answer = (verdict: Verdict, said: Said): ReadAnswer => {
    const weak = row === 'text' ? '. Who walked knew the text, which makes this weaker' : WALKER_READ
    const why = `${reference}: ${said.message}${row === 'text' || reading.walkerRead ? weak : ''}`
    return { reading, verdict, why, mend: said.mend ?? null, share, isTooFew }
  }
  const at = figures.distance(distanceM)
  if (share === null) return answer('not shown', gradeSays['read-nothing'](reference, reading.light, at))
  const counted = shareText(share, read)
  const limit = shareText(read)
  if (isTooFew) return answer('not shown', gradeSays['read-too-few'](many, cards))
  const held = decide(share, read)
  const shown = evidenceAt(
    distanceM,
    marks.map((mark) => ({ distanceM: mark.distance })),
    toleranceM,
    1,
  )
  if (shown === 'nearer')
    return answer('not shown', gradeSays['read-nearer'](figures.distance(marks[0]!.distance), at))
  if (shown === 'beyond' && held !== 'not met')
    return answer('not shown', gradeSays['read-beyond'](figures.distance(marks.at(-1)!.distance), at))
  const against = marks.find((mark) =>
    held === 'met'
      ? mark.distance <= distanceM + ONE_MARK_M && mark.high < read
      : held === 'not met' && mark.distance >= distanceM - ONE_MARK_M && mark.low >= read,
  )
  if (against !== undefined)
    return answer(
      'not shown',
      gradeSays['read-contrary'](counted, at, figures.distance(against.distance), shareText(against.share)),
    )
  const by = `${many} readers, ${cards} texts`
  if (held === 'not shown') return answer(held, gradeSays['read-undecided'](counted, at, limit))
  return answer(held, gradeSays['read-decided'](counted, at, limit, by))
}

/** Who read under half as many pictures as whoever read most is no second reader. This project's convention. */
function countReaders(readers: JudgedReading['readers']): number {
  const most = Math.max(0, ...readers.map(({ crops }) => crops))
  return readers.filter(({ crops }) => crops >= most / 2).length
}

const WALKER_READ = '. Who walked was among the readers, which makes this weaker'
