import { InvalidArgumentError } from 'commander'

/** A parser of whole numbers from `least` to `most` for an option; the whole text must be the number. */
export function wholeNumber(least: number, most: number): (text: string) => number {
  return (text) => {
    const value = /^\d+$/.test(text) ? Number(text) : NaN
    if (value >= least && value <= most) return value
    throw new InvalidArgumentError(`It must be a whole number from ${least} to ${most}.`)
  }
}

/** An option as it is typed, from its name in the program: `printedWidth` is `--printed-width`. */
export function optionAsTyped(name: string): string {
  return `--${name.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`)}`
}
