import { ALPHABET } from '../../chart/printed/letterShapes.js'
import type { WalkFinding } from '../../grade/judgement.js'
import { problem } from '../../sentences.js'
import { type PlacedAnswer, scoreTrial } from '../../trial/scoreTrial.js'
import { figuresFor } from '../../units/figures.js'
import { shareText } from '../../units/printedShare.js'
import type { UnitSystem } from '../../units/formatLength.js'
import type { Walk } from '../read/walk.js'
import type { ReadingEntry } from '../schemas/resultsSchema.js'
import type { FoundReadings } from './readReadings.js'
import { ROW_WORDS, trialSays } from './sentences.js'

/** Scores of a reading trial whose answers are not at hand. */
export interface ScoredReadings {
  readonly sha256: string
  readonly scored: readonly ReadingEntry[]
}

/** A still that answers may be about. */
interface ReadStill {
  readonly file: string
  readonly sha256: string
  readonly light: string
  readonly reference: string
  readonly distanceM: number
}

/** Digits and letters of a plate. */
const PLATE_CHARACTERS = 36
const ENOUGH = 0.95
/** Readers who cannot read agree on few characters, those who can on more than twice as many as are wrong: this project's convention. */
const LEAST_ALIKE = 0.4

/** The scores of a walk's reading trial; answers about stills that have changed since, or do not count, are left out. */
export function scoreReadings(
  walk: Pick<Walk, 'references' | 'promises' | 'people'>,
  readings: FoundReadings | ScoredReadings | null,
  stills: readonly ReadStill[],
): readonly ReadingEntry[] {
  if (readings === null) return []
  if ('scored' in readings) return readings.scored
  const placed = readings.answers.flatMap(({ file, still, row, practice, ...answer }): PlacedAnswer[] => {
    const reads = walk.references.filter((one) =>
      row === 'text'
        ? one.reads !== undefined && 'text' in one.reads && one.reads.text === answer.shown
        : one.reads !== undefined && 'letters' in one.reads,
    )
    const from = stills.find(
      (one) => one.file === file && one.sha256 === still && reads.some(({ name }) => name === one.reference),
    )
    if (from === undefined || practice) return []
    const { light, reference, distanceM } = from
    return [{ ...answer, row, crop: `${file} ${row}`, light, reference, distanceM }]
  })
  const scored = scoreTrial(
    inOrder(placed),
    (row) => 1 / (row === 'text' ? PLATE_CHARACTERS : ALPHABET.length),
    (light) => [
      ...new Set(
        walk.promises.flatMap((one) => (one.kind === 'read' && one.light === light ? [one.distanceM] : [])),
      ),
    ],
  )
  const walkedBy = walk.people.walkedBy?.trim().toLowerCase()
  return scored.map((one) => ({
    ...one,
    marks: [...one.marks],
    readers: [...one.readers],
    walkerRead: one.readers.some(({ reader }) => reader.trim().toLowerCase() === walkedBy),
    promised: [...one.promised],
    reached: null,
  }))
}

/** Whatever the order in which they were given, they are scored alike; the first answer to a showing stands. */
function inOrder(answers: readonly PlacedAnswer[]): PlacedAnswer[] {
  const key = ({ light, reference, row, distanceM, crop, reader, again }: PlacedAnswer): string =>
    JSON.stringify([light, reference, row, String(distanceM).padStart(12), crop, reader, again])
  const first = new Map<string, PlacedAnswer>()
  for (const answer of answers) if (!first.has(key(answer))) first.set(key(answer), answer)
  return [...first].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, answer]) => answer)
}

/** What is to be said of the readers, and where no distance is told, why. */
export function readingFindings(readings: readonly ReadingEntry[], units: UnitSystem): WalkFinding[] {
  return readings.flatMap((entry): WalkFinding[] => {
    const { light, reference, readers } = entry
    const about = { light, reference }
    const most = Math.max(...readers.map(({ crops }) => crops))
    return [
      ...readers.flatMap(({ reader, crops, untold }): WalkFinding[] => [
        ...(untold === crops ? [{ ...problem(trialSays['reader-told-nothing'](reader)), ...about }] : []),
        ...(crops < most ? [{ ...problem(trialSays['reader-stopped'](reader, crops, most)), ...about }] : []),
      ]),
      ...mixedUp(entry).map((said) => ({ ...problem(said), ...about })),
      ...(entry.read95 === null ? [{ ...problem(whyUntold(entry, units)), ...about }] : []),
    ]
  })
}

/** Whether readers read alike what is not there. */
function mixedUp({ light, reference, row, readers, agreement }: ReadingEntry) {
  const sum = (of: 'right' | 'asked'): number => readers.reduce((all, one) => all + one[of], 0)
  const right = sum('right') / sum('asked')
  if (agreement === null || agreement < LEAST_ALIKE || right > agreement / 2) return []
  const what = `${light}, ${reference}, ${ROW_WORDS[row]}`
  return [trialSays['cards-mixed-up'](what, shareText(agreement), shareText(right))]
}

function whyUntold({ light, reference, row, marks, readers }: ReadingEntry, units: UnitSystem) {
  const what = `${light}, ${reference}, ${ROW_WORDS[row]}`
  const at = (distanceM: number): string => figuresFor(units).distance(distanceM)
  const [nearest, farthest] = [marks[0]!, marks.at(-1)!]
  if (readers.length < 2) return trialSays['reading-one-reader'](what)
  if (marks.length < 2) return trialSays['reading-one-mark'](what)
  if (marks.every(({ share }) => share >= ENOUGH))
    return trialSays['reading-all-right'](what, at(farthest.distance))
  if (marks.every(({ share }) => share < ENOUGH))
    return trialSays['reading-never'](what, at(nearest.distance))
  return trialSays['reading-untold'](what)
}
