import type { Random } from '../../math/random.js'
import { FIELD, FRAME, moduleM, type ModuleBox } from './chartGeometry.js'
import type { ChartPaper } from './chartPapers.js'
import { CODE_COLUMNS, CODE_ROWS, letterCodes } from './letterCodes.js'
import { ALPHABET, LETTER_STROKES } from './letterShapes.js'

// A letter card: a sheet of the chart's own paper, fixed flush under the chart as the sheet of strips is. Two rows of characters, the upper in full ink, the lower in the
// faint strip's grey, and the card's code, which no reader is shown. Its truth in modules, as the strips' sheet has it. Sizes are this project's convention.

export type LetterRow = 'full' | 'faint'
export const LETTER_ROWS: readonly LetterRow[] = ['full', 'faint']

/** Characters of a row. */
export const ROW_LETTERS = 7

/** Height and stroke of characters, metres. */
export interface LetterSize {
  readonly heightM: number
  readonly strokeM: number
}

/** SI 2001/561 (United Kingdom): characters 79 mm high, 50 mm wide, of 14 mm stroke, 11 mm apart. The sizes alone: the characters are this project's. */
const PUBLISHED = { heightM: 0.079, widthM: 0.05, strokeM: 0.014, gapM: 0.011 } as const
export const PUBLISHED_SIZE: LetterSize = { heightM: PUBLISHED.heightM, strokeM: PUBLISHED.strokeM }

/** A card: its number, by whose code it is known, and what its rows say. */
export interface LetterCard {
  readonly number: number
  readonly full: string
  readonly faint: string
}

/** Middles of the rows, and the most a row's characters may be high, modules. */
const ROW_MIDDLES: Readonly<Record<LetterRow, number>> = { full: 1.95, faint: 5.1 }
const MOST_HEIGHT = 1.95

/** The code: cells of a module's height, a little wider, over the frame's width. */
export const CODE_BOX: ModuleBox = { left: FRAME.left, right: FRAME.right, top: 7, bottom: 7 + CODE_ROWS }

/** The box a row's characters fill, modules of the sheet. */
export function rowBox(paper: ChartPaper, { heightM }: LetterSize, row: LetterRow): ModuleBox {
  const module = moduleM(paper)
  const scale = heightM / PUBLISHED.heightM
  const half = (scale * (ROW_LETTERS * PUBLISHED.widthM + (ROW_LETTERS - 1) * PUBLISHED.gapM)) / module / 2
  const tall = heightM / module
  const middle = ROW_MIDDLES[row]
  return {
    left: FIELD.width / 2 - half,
    right: FIELD.width / 2 + half,
    top: middle - tall / 2,
    bottom: middle + tall / 2,
  }
}

/** Whether characters of a size have room on a paper's sheet, and are strokes rather than blots. */
export function lettersFit(paper: ChartPaper, size: LetterSize): boolean {
  const box = rowBox(paper, size, 'full')
  const hasRoom = box.left >= FRAME.left && box.bottom - box.top <= MOST_HEIGHT
  return hasRoom && size.strokeM > 0 && size.strokeM <= size.heightM / 4
}

/** A stroke's middle line, modules of the sheet. */
export type SheetStroke = readonly (readonly [x: number, y: number])[]

/** The middle lines of what a row says; strokes are as wide as the size says, with round ends and joints. */
export function rowStrokes(
  paper: ChartPaper,
  size: LetterSize,
  row: LetterRow,
  text: string,
): readonly SheetStroke[] {
  const module = moduleM(paper)
  const scale = size.heightM / PUBLISHED.heightM / module
  const stroke = size.strokeM / module
  const box = rowBox(paper, size, row)
  const across = scale * PUBLISHED.widthM - stroke
  const down = box.bottom - box.top - stroke
  return [...text].flatMap((letter, index) => {
    const left = box.left + index * scale * (PUBLISHED.widthM + PUBLISHED.gapM) + stroke / 2
    const top = box.top + stroke / 2
    return LETTER_STROKES[letter]!.map((line) =>
      line.map(([x, y]) => [left + x * across, top + y * down] as const),
    )
  })
}

/** The dark cells of a card's code, modules of the sheet. */
export function codeCells(number: number): ModuleBox[] {
  const width = (CODE_BOX.right - CODE_BOX.left) / CODE_COLUMNS
  return letterCodes()[number - 1]!.flatMap((cell, index) => {
    if (cell === 0) return []
    const left = CODE_BOX.left + (index % CODE_COLUMNS) * width
    const top = CODE_BOX.top + Math.floor(index / CODE_COLUMNS)
    return [{ left, right: left + width, top, bottom: top + 1 }]
  })
}

/** So many cards, their texts drawn by chance; no text is on two rows. */
export function drawCards(count: number, random: Random): LetterCard[] {
  const drawn = new Set<string>()
  const draw = (): string => {
    for (;;) {
      const text = Array.from(
        { length: ROW_LETTERS },
        () => ALPHABET[Math.floor(random.uniform() * ALPHABET.length)]!,
      ).join('')
      if (drawn.has(text)) continue
      drawn.add(text)
      return text
    }
  }
  return Array.from({ length: count }, (_, index) => ({ number: index + 1, full: draw(), faint: draw() }))
}
