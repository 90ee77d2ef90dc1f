import * as z from 'zod'
import type { Said } from '../../sentences.js'
import { complaint, faultless, text } from './fieldSchemas.js'
import { fieldSays } from './sentences.js'

const limit = z
  .number()
  .positive()
  .meta({ description: 'least density, px/m, exactly as the source gives it', examples: [62.5] })

const grade = z.strictObject({
  id: z
    .string()
    .regex(/^[a-z][a-z0-9]*(-[a-z0-9]+)*$/, fieldSays['no-grade-id']().message)
    .superRefine(faultless((id) => (id === 'none' ? fieldSays['grade-id-reserved']() : null)))
    .meta({ description: 'a lower-case word, by which promises name the grade', examples: ['recognise'] }),
  name: text('as its source writes it', 'Recognise'),
  limit,
  element: z
    .number()
    .positive()
    .optional()
    .meta({
      description: 'size in metres of what must stand out; by default two pixels at the limit',
      examples: [0.016],
    }),
})

/** A grading file: a published list of grades, lowest limit first. */
export const gradingSchema = z.strictObject({
  id: text('a short name of its own', 'harbour-2026'),
  name: text('as the tables print it', 'Harbour rules 2026'),
  source: text('where it was published', 'Harbour rules 2026, table 3'),
  grades: z
    .array(grade)
    .min(1)
    .superRefine((grades, context) => {
      grades.forEach(({ id, limit: own }, index) => {
        const lower = grades.slice(0, index)
        const complain = (field: string, said: Said) => context.addIssue(complaint(said, [index, field]))
        if (lower.some((other) => other.id === id)) complain('id', fieldSays['grade-twice'](id))
        const before = lower.at(-1)
        if (before !== undefined && own <= before.limit)
          complain('limit', fieldSays['limit-not-above'](own, before.limit))
      })
    })
    .meta({ examples: [[{ id: 'detect', name: 'Detect', limit: 25 }]] }),
  leastRoseK: z
    .number()
    .positive()
    .optional()
    .meta({ description: 'least Rose k of an element; 5 by default (Rose 1948)', examples: [5] }),
  fullDetailAt: z
    .number()
    .positive()
    .max(1)
    .optional()
    .meta({
      description:
        "f10 in cycles per pixel from which every pixel counts; 0.4 by default, this project's convention",
      examples: [0.4],
    }),
})
