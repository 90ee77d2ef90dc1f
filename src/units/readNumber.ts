import { failure, success, type Outcome } from '../math/outcome.js'
import { unitsSays } from './sentences.js'

/** A number as it was written, and what one step of its last digit is worth: 12.50 has 0.01, 12 has 1. */
export interface WrittenNumber {
  readonly value: number
  readonly lastDigit: number
}

/**
 * Reads an unsigned decimal number with a point or a comma. A comma followed by exactly three digits is refused,
 * because some would read it as thousands; so are several points or commas, and numbers of more than 15 digits.
 */
export function readNumber(text: string): Outcome<WrittenNumber, 'bad-number'> {
  const parts = /^(\d*)(?:([.,])(\d+))?$/.exec(text)
  if (parts === null || text === '') {
    return failure(unitsSays['no-number'](text))
  }
  const [, whole = '', mark, fraction = ''] = parts
  if (mark === ',' && fraction.length === 3) {
    return failure(unitsSays['thousands-or-decimals'](text, whole, fraction))
  }
  if (whole.length + fraction.length > 15) return failure(unitsSays['too-many-digits'](text))
  return success({
    value: Number(`${whole || '0'}.${fraction || '0'}`),
    lastDigit: Number(`1e-${fraction.length}`),
  })
}
