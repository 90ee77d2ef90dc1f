import { z } from 'zod'
import { text } from './fieldSchemas.js'

const limit = z
  .number()
  .positive()
  .meta({ description: 'least density, px/m, exactly as the source gives it', examples: [62.5] })

const grade = z.strictObject({
  id: z
    .string()
    .regex(/^[a-z][a-z0-9]*(-[a-z0-9]+)*$/, 'is no lower-case word')
    .refine((id) => id !== 'none', 'is reserved for "no grade reached"')
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
        const complain = (field: string, message: string) =>
          context.addIssue({ code: 'custom', path: [index, field], message })
        if (lower.some((other) => other.id === id)) complain('id', `"${id}" stands there twice`)
        const before = lower.at(-1)
        if (before !== undefined && own <= before.limit) {
          complain('limit', `${own} is not above the ${before.limit} before it; put the lowest limit first`)
        }
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
