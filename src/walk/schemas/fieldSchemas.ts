import { z } from 'zod'
import { failure, type Outcome } from '../../math/outcome.js'
import { parseLength } from '../../units/parseLength.js'
import { readNumber } from '../../units/readNumber.js'

// Descriptions and examples stand in the JSON Schema, and the first example becomes the mend of a faulty field.

/** A fault that quotes what was written. */
const quoted = (fault: string) => ({
  error: ({ input }: { readonly input?: unknown }) => `${JSON.stringify(input)} ${fault}`,
})

/** Text of one line or more that says something. */
export const text = (description: string, example: string) =>
  z
    .string()
    .regex(/\S/, 'is empty')
    .max(2000, 'is longer than 2000 characters')
    .meta({ description, examples: [example] })

/** The bounds of a length: whether nought is one here, and the most it can sensibly be. */
export interface LengthBounds {
  readonly least?: 'above 0' | '0'
  /** The most it can be, metres; more is a slip of the unit. */
  readonly mostM?: number
}

/** A length as people write it, to metres. The unit of its example is the one a bare number is taken to be meant in. */
export const length = (description: string, example: string, bounds: LengthBounds = {}) =>
  z
    .string()
    .meta({ description: `${description}; a length with its unit: mm, cm, m, ft, in`, examples: [example] })
    .transform((written, context) => {
      const outcome = boundedLength(written, example, bounds)
      if (outcome.ok) return outcome.value
      context.addIssue({ code: 'custom', message: outcome.message, params: { code: outcome.code } })
      return z.NEVER
    })

function boundedLength(written: string, example: string, bounds: LengthBounds): Outcome<number> {
  const outcome = parseLength(written, /[a-z]+$/.exec(example)?.[0])
  if (!outcome.ok) return outcome
  if (outcome.value <= 0 && bounds.least !== '0')
    return failure('no-length', `"${written}" is no length; it must be above 0, such as ${example}`)
  if (outcome.value > (bounds.mostM ?? Infinity))
    return failure('too-long', `"${written}" is far too long to be meant; write for example ${example}`)
  return outcome
}

/** The focal length of a lens; more than 1 m is a slip of the unit: this project's convention. */
export const focalLength = length('from the data sheet', '4 mm', { mostM: 1 })

/** The spacing of an imager's pixels; more than 0.1 mm is a slip of the unit: this project's convention. */
export const pixelPitch = length(
  "spacing of the imager's pixels, which settles its size; um is understood",
  '2.9 um',
  { mostM: 1e-4 },
)

/** A date of the calendar, as text. */
export const date = (description: string, example: string) =>
  z
    .string()
    .meta({ description, examples: [example], format: 'date' })
    .refine((written) => {
      const parts = /^(\d{4})-(\d{2})-(\d{2})$/.exec(written)
      const day = new Date(`${written}T00:00:00Z`)
      return parts !== null && !Number.isNaN(day.getTime()) && day.toISOString().startsWith(written)
    }, quoted('is no date of the form YYYY-MM-DD'))

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

/** No imager's side is longer, nor is an inch type larger, metres; more is a slip of the unit: this project's convention. */
const LONGEST_SIDE_M = 0.1

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
      if (inches * 0.0254 > LONGEST_SIDE_M) return tooLarge(written, context)
      return { kind: 'inch-type' as const, text: written.trim(), inches }
    }
    const sides = /^(.+?)\s*[x\u00d7]\s*(.+)$/i.exec(written.trim())
    const height = parseLength(sides?.[2] ?? '')
    const width = parseLength(/[a-z]/i.test(sides?.[1] ?? '') ? sides![1]! : `${sides?.[1] ?? ''} mm`)
    if (height.ok && width.ok && width.value > 0 && height.value > 0) {
      if (Math.max(width.value, height.value) > LONGEST_SIDE_M) return tooLarge(written, context)
      return { kind: 'size' as const, text: written.trim(), widthM: width.value, heightM: height.value }
    }
    context.addIssue({ code: 'custom', message: `"${written}" is neither an inch type nor a size` })
    return z.NEVER
  })

function tooLarge(written: string, context: z.RefinementCtx): never {
  const message = `"${written}" is far too large for an imager; write 1/2.8, or "5.6 x 3.1 mm"`
  context.addIssue({ code: 'custom', message, params: { code: 'too-large' } })
  return z.NEVER
}

// Checked here and not by a pattern in the JSON Schema: not every reader of those knows classes of letters.
const plainNamePattern = /^[\p{L}\p{N}]([\p{L}\p{N}\p{M} ._+-]{0,58}[\p{L}\p{N}\p{M}_+-])?$/u

/** A name that is also a folder or a key: a light, a reference. */
export const plainName = (description: string, example: string) =>
  z
    .string()
    .refine(
      (name) => plainNamePattern.test(name),
      quoted(
        'is no plain name: letters, digits, spaces, points, dashes, at most 60, a letter or digit first',
      ),
    )
    .meta({ description, examples: [example], minLength: 1, maxLength: 60 })

/** A key of the format that this release does not build yet: refused, never ignored. */
export const notBuiltYet = <Field extends z.ZodType>(field: Field) =>
  field
    .superRefine((_written, context) => {
      const message = 'is not built yet; leave it out until a release builds it'
      context.addIssue({ code: 'custom', message, params: { code: 'not-built-yet' } })
    })
    .meta({ ...field.meta(), description: `${field.meta()?.description ?? ''}; not built yet` })

/** Yes or no as people write it, to a boolean. */
export const yesOrNo = (description: string) =>
  z
    .union([z.boolean(), z.enum(['yes', 'no'])])
    .meta({ description, examples: ['yes', 'no'] })
    .transform((written) => written === true || written === 'yes')
