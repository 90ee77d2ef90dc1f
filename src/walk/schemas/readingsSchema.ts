import * as z from 'zod'

const plain = z
  .string()
  .min(1)
  .max(60)
  .regex(/^[^\p{C}]+$/u)
const sha256 = z.string().regex(/^[0-9a-f]{64}$/)

/** What a reader answered to one showing, and how it was shown. */
const given = {
  reader: plain,
  answered: z.string().max(40).nullable().describe('null for "cannot tell"; ? for a character not told'),
  seconds: z.number().nonnegative(),
  practice: z.boolean(),
  again: z.boolean().describe('shown before, to see how steady the reader is'),
  zoom: z.number().positive().describe('px of the screen a px of the still'),
  brightness: z.number().positive().describe('1: as it is'),
}

export const LETTER_ROW_NAMES = ['full', 'faint', 'text'] as const

/** An answer as `readings.json` keeps it. */
const answer = z.strictObject({
  ...given,
  file: z.string().min(1).describe('the still it was cut from; "practice" where from none'),
  still: sha256.nullable().describe('of that still'),
  row: z.enum(LETTER_ROW_NAMES).describe("a card's row at full contrast or in grey, or the text of a plate"),
  shown: z.string().min(1),
})

/** `readings.json`: the seed of a walk's reading trial, and all that was answered. */
export const readingsSchema = z.strictObject({
  format: z.literal('proofwalk-readings/1'),
  seed: z.int().nonnegative(),
  answers: z.array(answer),
})

const packAnswer = z.strictObject({ ...given, crop: z.string().min(1).max(64) })

/** A trial carried away as one file: crops without what they say or where they are from, and what was answered. */
export const packSchema = z.strictObject({
  format: z.literal('proofwalk-trial/1'),
  seed: z.int().nonnegative(),
  crops: z
    .array(z.strictObject({ id: sha256, letters: z.int().positive(), png: z.base64() }))
    .min(1)
    .max(10_000),
  answers: z.array(packAnswer),
})

export type Readings = z.output<typeof readingsSchema>
export type ReadingAnswer = z.output<typeof answer>
export type TrialPack = z.output<typeof packSchema>
export type GivenAnswer = z.output<typeof packAnswer>
