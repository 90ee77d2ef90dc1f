import * as z from 'zod'
import { problem, type Said } from '../../sentences.js'
import { INCH_M } from '../../units/formatLength.js'
import { parseLength } from '../../units/parseLength.js'
import { readNumber } from '../../units/readNumber.js'
import { fieldSays, PATH_FAULTS } from './sentences.js'

// Descriptions and examples stand in the JSON Schema, and the first example becomes the mend of a faulty field.

/** A sentence of the catalogue as zod carries it to `schemaFaults`. */
export const complaint = (said: Said, path: PropertyKey[] = []) => ({
  code: 'custom' as const,
  message: problem(said).message,
  params: { ...said },
  path,
})

/** A refinement that complains with the sentence of what is at fault; null where nothing is. */
export const faultless =
  <Value>(faultOf: (value: Value) => Said | null) =>
  (value: Value, context: z.RefinementCtx): void => {
    const said = faultOf(value)
    if (said !== null) context.addIssue(complaint(said))
  }

function refused(said: Said, context: z.RefinementCtx): never {
  context.addIssue(complaint(said))
  return z.NEVER
}

/** Text of one line or more that says something. */
export const text = (description: string, example: string) =>
  z
    .string()
    .regex(/\S/, fieldSays.empty().message)
    .max(2000, fieldSays['text-too-long']().message)
    .meta({ description, examples: [example] })

/** The bounds of a length: whether nought is one here, or one below it, and the most it can sensibly be. */
export interface LengthBounds {
  readonly least?: 'above 0' | '0' | 'below 0'
  /** The most it can be, metres; more is a slip of the unit. */
  readonly mostM?: number
}

/** A length as people write it, to metres. The unit of its example is the one a bare number is taken to be meant in. */
export const length = (description: string, example: string, bounds: LengthBounds = {}) =>
  z
    .string()
    .meta({ description: `${description}; a length with its unit: mm, cm, m, ft, in`, examples: [example] })
    .transform((written, context) => {
      const minus = bounds.least === 'below 0' ? /^\s*[-\u2212]/.exec(written) : null
      const outcome = parseLength(written.slice(minus?.[0].length ?? 0), /[a-z]+$/.exec(example)?.[0])
      if (!outcome.ok) {
        // A failed reading has its mend behind its sentence.
        const [message = '', mend] = outcome.message.split(/; (?=[^;]+$)/)
        return refused({ code: outcome.code, message, ...(mend === undefined ? {} : { mend }) }, context)
      }
      const value = minus === null ? outcome.value : -outcome.value
      if (value <= 0 && (bounds.least ?? 'above 0') === 'above 0')
        return refused(fieldSays['no-length'](written, example), context)
      if (value > (bounds.mostM ?? Infinity)) return refused(fieldSays['too-long'](written, example), context)
      return value
    })

/** The focal length of a lens; more than 1 m is a slip of the unit: this project's convention. */
export const focalLength = length('from the data sheet', '6.6 mm', { mostM: 1 })

/** The spacing of an imager's pixels; more than 0.1 mm is a slip of the unit: this project's convention. */
export const pixelPitch = length(
  "spacing of the imager's pixels, which settles its size; um is understood",
  '2 um',
  { mostM: 1e-4 },
)

/** What of a text can be promised to be read, percent: below, guesses come near; above, nobody reads on (lapses). This project's convention. */
export const READ_PERCENT = { least: 50, most: 97 } as const

/** How much is read, as people write it, "95 %", to a share. */
export const readPercent = z
  .string()
  .meta({
    description: `how many characters readers of the reading trial read there; ${READ_PERCENT.least} % to ${READ_PERCENT.most} %`,
    examples: ['95 %'],
  })
  .transform((written, context) => {
    const [, digits] = /^\s*(\d{1,2}(?:[.,]\d+)?)\s*%\s*$/.exec(written) ?? []
    const value = Number(digits?.replace(',', '.'))
    const { least, most } = READ_PERCENT
    return value >= least && value <= most
      ? Number((value / 100).toPrecision(12))
      : refused(fieldSays['no-percentage'](written, least, most), context)
  })

/** A date of the calendar, as text. */
export const date = (description: string, example: string) =>
  z
    .string()
    .meta({ description, examples: [example], format: 'date' })
    .superRefine(
      faultless((written) => {
        const parts = /^(\d{4})-(\d{2})-(\d{2})$/.exec(written)
        const day = new Date(`${written}T00:00:00Z`)
        const isDay = parts !== null && !Number.isNaN(day.getTime()) && day.toISOString().startsWith(written)
        return isDay ? null : fieldSays['no-date'](written)
      }),
    )

/** A path inside the walk's folder, with forward slashes. */
export const innerPath = (description: string, example: string) =>
  z
    .string()
    .meta({ description: `${description}; a path inside the walk's folder`, examples: [example] })
    .superRefine(
      faultless((path) => {
        const why = pathFault(path)
        return why === null ? null : fieldSays['path-leaves-walk'](path, why)
      }),
    )
    .transform(plainPath)

/** A path as it is compared: from the walk's folder, without a leading ./ */
export function plainPath(path: string): string {
  return path.replace(/^(\.\/)+/, '').normalize('NFC')
}

/** Why a path cannot be one inside the walk's folder, or null. */
export function pathFault(path: string): string | null {
  if (path.trim() === '') return PATH_FAULTS.empty
  if (path.includes('\0')) return PATH_FAULTS.character
  if (path.includes('\\')) return PATH_FAULTS.backslashes
  if (path.startsWith('/') || /^[a-z]:/i.test(path)) return PATH_FAULTS.absolute
  if (path.split('/').includes('..')) return PATH_FAULTS.upward
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

/** An inch type such as 1/1.7, or the two sides such as "7.6 x 4.3 mm". */
export const sensor = z
  .string()
  .meta({ description: 'an inch type, or the two sides', examples: ['1/1.7', '7.6 x 4.3 mm'] })
  .transform((written, context) => {
    const type = /^(\d[\d.]*)(?:\s*\/\s*(\d[\d.]*))?\s*(?:"|''|in|inch|-inch|-type)?$/i.exec(written.trim())
    const over = readNumber(type?.[1] ?? '')
    const under = readNumber(type?.[2] ?? '1')
    if (over.ok && under.ok && over.value.value > 0 && under.value.value > 0) {
      const inches = over.value.value / under.value.value
      if (inches * INCH_M > LONGEST_SIDE_M) return refused(fieldSays['too-large'](written), context)
      return { kind: 'inch-type' as const, text: written.trim(), inches }
    }
    const sides = /^(.+?)\s*[x\u00d7]\s*(.+)$/i.exec(written.trim())
    const height = parseLength(sides?.[2] ?? '')
    const width = parseLength(/[a-z]/i.test(sides?.[1] ?? '') ? sides![1]! : `${sides?.[1] ?? ''} mm`)
    if (height.ok && width.ok && width.value > 0 && height.value > 0) {
      if (Math.max(width.value, height.value) > LONGEST_SIDE_M)
        return refused(fieldSays['too-large'](written), context)
      return { kind: 'size' as const, text: written.trim(), widthM: width.value, heightM: height.value }
    }
    return refused(fieldSays['no-sensor'](written), context)
  })

// Checked here and not by a pattern in the JSON Schema: not every reader of those knows classes of letters.
const plainNamePattern = /^[\p{L}\p{N}]([\p{L}\p{N}\p{M} ._+-]{0,58}[\p{L}\p{N}\p{M}_+-])?$/u

/** A name that is also a folder or a key: a light, a reference. */
export const plainName = (description: string, example: string) =>
  z
    .string()
    .superRefine(faultless((name) => (plainNamePattern.test(name) ? null : fieldSays['no-plain-name'](name))))
    .meta({ description, examples: [example], minLength: 1, maxLength: 60 })

/** Yes or no as people write it, to a boolean. */
export const yesOrNo = (description: string) =>
  z
    .union([z.boolean(), z.enum(['yes', 'no'])])
    .meta({ description, examples: ['yes', 'no'] })
    .transform((written) => written === true || written === 'yes')
