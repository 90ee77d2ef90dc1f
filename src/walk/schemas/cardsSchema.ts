import * as z from 'zod'
import { chartPaper } from '../../chart/printed/chartPapers.js'
import { MOST_CARDS } from '../../chart/printed/letterCodes.js'
import { lettersFit, ROW_LETTERS } from '../../chart/printed/letterSheet.js'
import { ALPHABET } from '../../chart/printed/letterShapes.js'
import { text } from './fieldSchemas.js'

const said = z.string().regex(new RegExp(`^[${ALPHABET}]{${ROW_LETTERS}}$`))

/** `cards.json`: what each letter card says, written as the cards are; lengths metres. */
export const cardsSchema = z
  .strictObject({
    format: z.literal('proofwalk-cards/1'),
    seed: z.int().nonnegative(),
    paper: text('the paper the cards were printed on', 'A2').refine((id) => chartPaper(id)?.id === id),
    size: z.strictObject({ heightM: z.number().positive(), strokeM: z.number().positive() }),
    cards: z
      .array(z.strictObject({ number: z.int().min(1).max(MOST_CARDS), full: said, faint: said }))
      .min(1)
      .refine((cards) => new Set(cards.map(({ number }) => number)).size === cards.length),
  })
  .refine(({ paper, size }) => {
    const sheet = chartPaper(paper)
    return sheet === undefined || lettersFit(sheet, size)
  })

/** The letter cards of a walk. */
export type LetterCards = z.output<typeof cardsSchema>
