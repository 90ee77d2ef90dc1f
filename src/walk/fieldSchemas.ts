import { z } from 'zod'
import { parseLength } from '../units/parseLength.js'
import { readNumber } from '../units/readNumber.js'

// Descriptions and examples stand in the JSON Schema, and the first example becomes the mend of a faulty field.

/** Text of one line or more that says something. */
export const text = (description: string, example: string) =>
  z
    .string()
    .regex(/\S/, 'is empty')
    .max(2000, 'is longer than 2000 characters')
    .meta({ description, examples: [example] })

/** A length as people write it, to metres; `least` says whether nought is a length here. */
export const length = (description: string, example: string, least: 'above 0' | '0' = 'above 0') =>
  z
    .string()
    .meta({ description: `${description}; a length with its unit: mm, cm, m, ft, in`, examples: [example] })
    .transform((written, context) => {
      const outcome = parseLength(written)
      if (outcome.ok && (outcome.value > 0 || least === '0')) return outcome.value
      const fault = outcome.ok
        ? { code: 'no-length', message: `"${written}" is no length; it must be above 0` }
        : outcome
      context.addIssue({ code: 'custom', message: fault.message, params: { code: fault.code } })
      return z.NEVER
    })

/** A date of the calendar, as text. */
export const date = (description: string, example: string) =>
  z
    .string()
    .meta({ description, examples: [example], format: 'date' })
    .refine((written) => {
      const parts = /^(\d{4})-(\d{2})-(\d{2})$/.exec(written)
      const day = new Date(`${written}T00:00:00Z`)
      return parts !== null && !Number.isNaN(day.getTime()) && day.toISOString().startsWith(written)
    }, 'is no date of the form YYYY-MM-DD')

/** A path inside the walk's folder, with forward slashes. */
export const innerPath = (description: string, example: string) =>
  z
    .string()
    .meta({ description: `${description}; a path inside the walk's folder`, examples: [example] })
    .superRefine((path, context) => {
      const fault = pathFault(path)
      if (fault === null) return
      context.addIssue({
        code: 'custom',
        message: `"${path}" ${fault}`,
        params: { code: 'path-leaves-walk' },
      })
    })
    .transform((path) => path.replace(/^(\.\/)+/, '').normalize('NFC'))

/** Why a path cannot be one inside the walk's folder, or null. */
export function pathFault(path: string): string | null {
  if (path.trim() === '') return 'is empty'
  if (path.includes('\0')) return 'holds a character no file name may hold'
  if (path.includes('\\')) return 'is written with backslashes; use forward slashes'
  if (path.startsWith('/') || /^[a-z]:/i.test(path)) return "must start from the walk's folder"
  if (path.split('/').includes('..')) return "leaves the walk's folder"
  return null
}

/** An angle in degrees above 0 and below `below`. */
export const angle = (description: string, example: number, below: number) =>
  z
    .number()
    .gt(0)
    .lt(below)
    .meta({ description: `${description}, degrees`, examples: [example] })

/** An inch type such as 1/2.8, or the two sides such as "5.6 x 3.1 mm". */
export const sensor = z
  .string()
  .meta({ description: 'an inch type, or the two sides', examples: ['1/2.8', '5.6 x 3.1 mm'] })
  .transform((written, context) => {
    const type = /^(\d[\d.]*)(?:\s*\/\s*(\d[\d.]*))?\s*(?:"|''|in|inch|-inch|-type)?$/i.exec(written.trim())
    const over = readNumber(type?.[1] ?? '')
    const under = readNumber(type?.[2] ?? '1')
    if (over.ok && under.ok && over.value.value > 0 && under.value.value > 0) {
      const inches = over.value.value / under.value.value
      return { kind: 'inch-type' as const, text: written.trim(), inches }
    }
    const sides = /^(.+?)\s*[x\u00d7]\s*(.+)$/i.exec(written.trim())
    const height = parseLength(sides?.[2] ?? '')
    const width = parseLength(/[a-z]/i.test(sides?.[1] ?? '') ? sides![1]! : `${sides?.[1] ?? ''} mm`)
    if (height.ok && width.ok && width.value > 0 && height.value > 0) {
      return { kind: 'size' as const, text: written.trim(), widthM: width.value, heightM: height.value }
    }
    context.addIssue({ code: 'custom', message: `"${written}" is neither an inch type nor a size` })
    return z.NEVER
  })

// Checked here and not by a pattern in the JSON Schema: not every reader of those knows classes of letters.
const plainNamePattern = /^[\p{L}\p{N}]([\p{L}\p{N}\p{M} ._+-]{0,58}[\p{L}\p{N}\p{M}_+-])?$/u

/** A name that is also a folder or a key: a light, a reference. */
export const plainName = (description: string, example: string) =>
  z
    .string()
    .refine(
      (name) => plainNamePattern.test(name),
      'is no plain name: letters, digits, spaces, points, dashes, at most 60, a letter or digit first',
    )
    .meta({ description, examples: [example], minLength: 1, maxLength: 60 })

/** Yes or no as people write it, to a boolean. */
export const yesOrNo = (description: string) =>
  z
    .union([z.boolean(), z.enum(['yes', 'no'])])
    .meta({ description, examples: ['yes', 'no'] })
    .transform((written) => written === true || written === 'yes')
