import { InvalidArgumentError } from 'commander'

/** A parser of whole numbers from `least` to `most` for an option; the whole text must be the number. */
export function wholeNumber(least: number, most: number): (text: string) => number {
  return (text) => {
    const value = /^\d+$/.test(text) ? Number(text) : NaN
    if (value >= least && value <= most) return value
    throw new InvalidArgumentError(`It must be a whole number from ${least} to ${most}.`)
  }
}
