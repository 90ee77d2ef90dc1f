import { failure, success, type Outcome } from '../math/outcome.js'
import { readNumber, type WrittenNumber } from './readNumber.js'
import { unitsSays } from './sentences.js'

export type LengthFault = 'bare-number' | 'bad-length' | 'unknown-unit' | 'negative-length' | 'units-disagree'

/** A length as it was written: its value, and what its last digit stands for; both metres. */
interface WrittenLength {
  readonly lengthM: number
  readonly lastDigitM: number
}

/** The units of lengths in all their spellings, as patterns that match without regard to case. */
const SPELLINGS = {
  um: 'um|\\u00b5m|\\u03bcm',
  mm: 'mm|millimet(?:er|re)s?',
  cm: 'cm|centimet(?:er|re)s?',
  m: 'm|met(?:er|re)s?',
  in: `in|inch|inches|"|''|\\u2033|\\u201d`,
  ft: "ft|foot|feet|'|\\u2032|\\u2019",
} as const
type Unit = keyof typeof SPELLINGS

/** A number as people write one before a unit: `12`, `12.5`, `12,5`, `12 3/4`, `3/4`. */
const NUMBER = '\\d+/\\d+|\\d+\\s+\\d+/\\d+|[\\d.,]+'
/** A length in feet and inches, with the two numbers in groups. */
const FEET_INCHES = `(\\d+)\\s*(?:${SPELLINGS.ft}|['\\u2032\\u2019]\\s*-)\\s*(${NUMBER})\\s*(?:${SPELLINGS.in})`

/** How a file's name begins that begins with a length. */
export const LENGTH_AT_START = new RegExp(
  `^(?:${FEET_INCHES}|\\d+(?:[.,]\\d+)?\\s*(?:${Object.values(SPELLINGS).join('|')}))(?![a-z\\p{L}])`,
  'iu',
)

/** A unit is `times / per` metres; kept as whole numbers so that 487.2 mm is 0.4872 m and not 0.48719999999999997. */
const unitRatios: Readonly<Record<Unit, { readonly times: number; readonly per: number }>> = {
  um: { times: 1, per: 1_000_000 },
  mm: { times: 1, per: 1000 },
  cm: { times: 1, per: 100 },
  m: { times: 1, per: 1 },
  in: { times: 254, per: 10_000 },
  ft: { times: 3048, per: 10_000 },
}

/**
 * Reads a length as people write it, in metres: `16 m`, `485mm`, `1.2 cm`, `45 ft`, `20 feet`, `24 inches`, `12 3/4 in`, `5'6"`, `5' 6 1/2"`,
 * `5 ft 6 in`, `2.9 um`, or in both systems, `45 ft (13.72 m)`. Of both, the first counts, and the second must be the first
 * rounded to the second's last digit. The whole text is read; spaces between number and unit are free, and units
 * may be upper case. A comma is a decimal comma unless exactly three digits follow it, which is refused because it
 * could mean thousands. The foot is 0.3048 m exactly (international yard and pound agreement, 1959). `unitMeant` is
 * what a bare number is most likely in; the fault of one says so.
 * Errors: `bare-number`, `bad-length`, `unknown-unit`, `negative-length`, `units-disagree`.
 */
export function parseLength(text: string, unitMeant = 'm'): Outcome<number, LengthFault> {
  const both = /^([^()]+)\(([^()]+)\)$/.exec(text.trim())
  const first = written((both?.[1] ?? text).trim(), unitMeant)
  if (!first.ok) return first
  if (both === null) return success(first.value.lengthM)
  const second = written(both[2]!.trim(), unitMeant)
  if (!second.ok) return second
  const apartM = Math.abs(first.value.lengthM - second.value.lengthM)
  if (apartM > second.value.lastDigitM / 2 + 1e-9) {
    const [one, other] = [both[1]!.trim(), both[2]!.trim()]
    return failure(unitsSays['units-disagree'](one, first.value.lengthM, other, second.value.lengthM))
  }
  return success(first.value.lengthM)
}

function written(text: string, unitMeant: string): Outcome<WrittenLength, LengthFault> {
  const feetAndInches = new RegExp(`^${FEET_INCHES}$`, 'i').exec(text)
  if (feetAndInches !== null) return fromFeetAndInches(text, feetAndInches[1]!, feetAndInches[2]!)
  const parts = new RegExp(`^([-\\u2212+]?)\\s*(${NUMBER})\\s*(.*)$`).exec(text)
  if (parts === null) return failure(unitsSays['no-length'](text))
  const [, sign, digits, unitText] = parts
  const number = readFraction(digits!)
  if (!number.ok) return failure(unitsSays['length-of-no-number'](text, number.message))
  if (unitText === '') {
    return failure(unitsSays['bare-number'](text, unitMeant))
  }
  const span = /^[-\u2212\u2013]\s*([\d.,]+)\s*([a-z'"]*)$/i.exec(unitText!)
  if (span !== null && sign === '') {
    const unit = span[2] === '' ? unitMeant : span[2]!
    return failure(unitsSays['two-lengths'](text, `${digits} ${unit}`, `${span[1]} ${unit}`))
  }
  const unit = unitIn(unitText!)
  if (unit === undefined) {
    return failure(unitsSays['unknown-unit'](text))
  }
  if (sign !== '' && sign !== '+') return failure(unitsSays['negative-length'](text))
  return success(lengthOf(number.value, unitRatios[unit]))
}

function lengthOf(
  { value, lastDigit }: WrittenNumber,
  { times, per }: (typeof unitRatios)[Unit],
): WrittenLength {
  return { lengthM: (value * times) / per, lastDigitM: (lastDigit * times) / per }
}

function unitIn(text: string): Unit | undefined {
  return (Object.keys(SPELLINGS) as Unit[]).find((unit) =>
    new RegExp(`^(?:${SPELLINGS[unit]})$`, 'i').test(text),
  )
}

/** A number with or without a fraction behind it: `12`, `12 3/4`, `3/4`. */
function readFraction(text: string): Outcome<WrittenNumber, 'bad-number'> {
  const parts = /^(?:(\d+)\s+)?(\d+)\/(\d+)$/.exec(text)
  if (parts === null) return readNumber(text)
  const [over, under] = [Number(parts[2]), Number(parts[3])]
  if (over >= under || under > 64) return failure(unitsSays['no-fraction'](text))
  return success({ value: Number(parts[1] ?? 0) + over / under, lastDigit: 1 / under })
}

function fromFeetAndInches(text: string, feet: string, inches: string): Outcome<WrittenLength, LengthFault> {
  const number = readFraction(inches)
  if (!number.ok) return failure(unitsSays['length-of-no-number'](text, number.message))
  if (number.value.value >= 12) {
    return failure(unitsSays['twelve-inches'](text))
  }
  const { value, lastDigit } = number.value
  return success(lengthOf({ value: Number(feet) * 12 + value, lastDigit }, unitRatios.in))
}
