import { join } from 'node:path'
import { chartPaper } from '../../chart/printed/chartPapers.js'
import type { ModuleBox } from '../../chart/printed/chartGeometry.js'
import { LETTER_ROWS, rowBox } from '../../chart/printed/letterSheet.js'
import { sha256Of } from '../../files/fileSha256.js'
import { jsonOrNull, readInnerFile } from '../../files/readInnerFile.js'
import type { Quad } from '../../math/point.js'
import { codeRegion, planeUnder, readCard, regionOf } from '../../measure/letters/readCard.js'
import { offsetPlane } from '../../measure/strip/sheetPlane.js'
import { fault, problem } from '../../sentences.js'
import { openStill, type StillFile } from '../../still/openStill.js'
import type { PixelRegion } from '../../still/raster.js'
import type { Walk } from '../read/walk.js'
import { cardsSchema, type LetterCards } from '../schemas/cardsSchema.js'
import type { LETTER_ROW_NAMES } from '../schemas/readingsSchema.js'
import type { StillEntry, WalkResults } from '../schemas/resultsSchema.js'
import { trialSays } from './sentences.js'

/** A crop that readers are shown: where it is from, what it says, and the picture, known by the hash of its bytes. */
export interface TrialCrop {
  readonly id: string
  readonly file: string
  readonly still: string
  readonly row: (typeof LETTER_ROW_NAMES)[number]
  readonly shown: string
  readonly png: Buffer
}

/** What a walk's stills have to be read, and in words which of them do not count and why. */
export interface TrialCrops {
  readonly crops: readonly TrialCrop[]
  readonly left: readonly string[]
}

/** Paper around a row, modules, and around a plate, share of its height: this project's convention. */
const AROUND_ROW = 0.5
const AROUND_PLATE = 0.25

/**
 * Cuts out of a walk's measured stills what is to be read in them: both rows of letter cards, named by the code under them, and plates whose text the walk says. A picture
 * that is there twice is shown once.
 * @throws `ProofwalkError` `no-cards`, `bad-cards`, `cards-other-paper`; `nothing-to-read` where nothing is left
 */
export async function trialCrops(walk: Walk, results: WalkResults): Promise<TrialCrops> {
  const crops = new Map<string, TrialCrop>()
  const left: string[] = []
  for (const { name, reference, reads } of walk.references) {
    if (reads === undefined || reference.kind !== 'rectangle') continue
    const cards = 'letters' in reads ? await readCards(walk.dir, reads.letters, reference.chart!.paper) : null
    for (const entry of results.stills) {
      if (entry.reference !== name || (entry.sameAs ?? null) !== null) continue
      const opened = await openStill(join(walk.dir, entry.file))
      if (!opened.ok || opened.value.sha256 !== entry.sha256) {
        left.push(problem(trialSays['still-changed-since'](entry.file)).message)
        continue
      }
      const parts =
        cards === null
          ? platePart(entry, (reads as { text: string }).text)
          : await cardParts(opened.value, entry, cards)
      if (typeof parts === 'string') left.push(parts)
      else
        for (const { region, row, shown } of parts) {
          const { bytes } = await opened.value.crop(region, { format: 'png' })
          const id = sha256Of(bytes)
          crops.set(id, { id, file: entry.file, still: entry.sha256, row, shown, png: bytes })
        }
    }
  }
  if (crops.size === 0) throw fault(trialSays['nothing-to-read'](), { file: walk.dir })
  return { crops: [...crops.values()], left }
}

interface CropPart extends Pick<TrialCrop, 'row' | 'shown'> {
  readonly region: PixelRegion
}

async function readCards(dir: string, path: string, paper: string): Promise<LetterCards> {
  const file = join(dir, path)
  const bytes = await readInnerFile(dir, path)
  if (bytes === null) throw fault(trialSays['no-cards'](), { file })
  const cards = cardsSchema.safeParse(jsonOrNull(bytes))
  if (!cards.success) throw fault(trialSays['bad-cards'](), { file })
  if (cards.data.paper !== paper)
    throw fault(trialSays['cards-other-paper'](cards.data.paper, paper), { file })
  return cards.data
}

/** The rows of the card under a still's chart, or in words why there are none. */
async function cardParts(
  still: StillFile,
  entry: StillEntry,
  cards: LetterCards,
): Promise<CropPart[] | string> {
  const paper = chartPaper(cards.paper)!
  const nominal = planeUnder(paper, entry.corners as unknown as Quad)
  const around = nominal === null ? null : codeRegion(nominal)
  const told = problem(trialSays['card-not-told'](entry.file)).message
  if (nominal === null || around === null || !touches(around, still)) return told
  const seen = readCard(
    await still.region(around),
    nominal,
    cards.cards.map(({ number }) => number),
  )
  const card = cards.cards.find(({ number }) => number === seen?.number)
  if (seen === null || card === undefined) return told
  const plane = offsetPlane(nominal, seen.offset)
  const parts = LETTER_ROWS.flatMap((row): CropPart[] => {
    const region = regionOf(plane, rowBox(paper, cards.size, row), AROUND_ROW)
    return region === null || !isWithin(region, still) ? [] : [{ region, row, shown: card[row] }]
  })
  return parts.length === LETTER_ROWS.length ? parts : problem(trialSays['card-cut'](entry.file)).message
}

function platePart({ corners, file }: StillEntry, shown: string): CropPart[] | string {
  if (corners.length < 4) return problem(trialSays['card-cut'](file)).message
  const [xs, ys] = [corners.map(([x]) => x), corners.map(([, y]) => y)]
  const box: ModuleBox = {
    left: Math.min(...xs),
    right: Math.max(...xs),
    top: Math.min(...ys),
    bottom: Math.max(...ys),
  }
  const around = AROUND_PLATE * (box.bottom - box.top)
  const region = {
    left: Math.floor(box.left - around),
    top: Math.floor(box.top - around),
    width: Math.ceil(box.right - box.left + 2 * around),
    height: Math.ceil(box.bottom - box.top + 2 * around),
  }
  return [{ region, row: 'text', shown }]
}

function isWithin({ left, top, width, height }: PixelRegion, still: StillFile): boolean {
  return left >= 0 && top >= 0 && left + width <= still.width && top + height <= still.height
}

function touches({ left, top, width, height }: PixelRegion, still: StillFile): boolean {
  return left < still.width && top < still.height && left + width > 0 && top + height > 0
}
