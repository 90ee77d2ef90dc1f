/** The longest a quoted text may make a line, characters. */
const LONGEST_TEXT = 500

/** Signs that move a terminal's cursor or set its colours, end a line, or turn the order of what stands around them (Unicode 15, UAX #9, 2). */
const UNSEEN = /[\p{Cc}\p{Zl}\p{Zp}\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/gu

/** What ends a line, or leaves a gap in it. */
export const LINE_ENDS = /[\t\n\v\f\r\u0085\p{Zl}\p{Zp}]+/gu

/** A text with every control and direction sign, as may stand in file names, written as its number: \u001b. */
export function escaped(text: string): string {
  return text.replace(UNSEEN, (sign) => `\\u${sign.charCodeAt(0).toString(16).padStart(4, '0')}`)
}

/** The same of a text of several lines, which stay. In JSON, where such signs stand in strings alone, it says the same. */
export function escapedLines(text: string): string {
  return text.split('\n').map(escaped).join('\n')
}

/**
 * A text as one line that a terminal can print: line breaks become blanks, other control and direction signs are written as their number, and what is longer than
 * `longest` characters is cut short.
 */
export function oneLine(text: string, longest = LONGEST_TEXT): string {
  const printable = escaped(text.replace(LINE_ENDS, ' ')).trim()
  const letters = [...printable]
  return letters.length <= longest ? printable : `${letters.slice(0, longest).join('')}...`
}
