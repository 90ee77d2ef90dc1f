import { randomInt } from 'node:crypto'
import { lstat } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import type { ChartPaper } from '../../chart/printed/chartPapers.js'
import { drawCards, lettersFit, PUBLISHED_SIZE, type LetterSize } from '../../chart/printed/letterSheet.js'
import { writeWhole } from '../../files/writeWhole.js'
import { seededRandom } from '../../math/random.js'
import { fault } from '../../sentences.js'
import { chartPdf } from '../../sheet/chart/chartPdf.js'
import { parseLength } from '../../units/parseLength.js'
import type { LetterCards } from '../../walk/schemas/cardsSchema.js'
import { cliSays } from '../sentences.js'
import type { Terminal } from '../terminal/terminal.js'

/** The options of `chart --letters`, as typed. */
export interface LetterOptions {
  readonly out: string
  readonly letters?: true
  readonly dim?: true
  readonly strip?: true
  readonly cards?: number
  readonly seed?: number
  readonly height?: string
  readonly stroke?: string
}

const CARDS = 12
const CARDS_FILE = 'cards.json'

/**
 * Writes letter cards as PDF and, beside it, `cards.json` with what they say.
 * @throws `ProofwalkError` `option-out-of-place`, `letters-too-large`, `already-there` where there is a cards.json: printed cards would lose what they say
 */
export async function writeLetterCards(
  paper: ChartPaper,
  tile: ChartPaper | null,
  options: LetterOptions,
  terminal: Terminal,
): Promise<void> {
  for (const option of ['dim', 'strip'] as const)
    if (options[option] === true)
      throw fault(cliSays['option-out-of-place']('letters'), { field: `--${option}` })
  const size = sizeOf(options)
  if (!lettersFit(paper, size)) throw fault(cliSays['letters-too-large'](paper.name), { field: '--height' })
  const file = join(dirname(options.out), CARDS_FILE)
  if ((await lstat(file).catch(() => null)) !== null) throw fault(cliSays['cards-there'](), { file })
  const seed = options.seed ?? randomInt(2 ** 32)
  const cards = drawCards(options.cards ?? CARDS, seededRandom(seed))
  const told: LetterCards = { format: 'proofwalk-cards/1', seed, paper: paper.id, size, cards }
  await writeWhole(options.out, await chartPdf({ paper, tile, dim: false, letters: { cards, size } }))
  await writeWhole(file, `${JSON.stringify(told, null, 2)}\n`)
  terminal.out(
    `${options.out}: ${cards.length} letter cards, ${paper.name}; ${file} has what they say: show it to no reader\n` +
      `Next: print them and "proofwalk chart --paper ${paper.id}" at 100 %, copy ${CARDS_FILE} into the walk, and write into walk.yaml: card: { letters: ${CARDS_FILE} }\n`,
  )
  terminal.setStatus(0)
}

/** @throws `ProofwalkError` where a length is none */
function sizeOf({ height, stroke }: LetterOptions): LetterSize {
  const heightM = height === undefined ? PUBLISHED_SIZE.heightM : lengthOf(height, '--height')
  const scaled = (PUBLISHED_SIZE.strokeM * heightM) / PUBLISHED_SIZE.heightM
  return { heightM, strokeM: stroke === undefined ? scaled : lengthOf(stroke, '--stroke') }
}

function lengthOf(text: string, field: string): number {
  const length = parseLength(text, 'mm')
  if (!length.ok) throw fault(length, { field })
  return length.value
}
