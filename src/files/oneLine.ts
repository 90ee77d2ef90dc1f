/** The longest a quoted text may make a line, characters. */
const LONGEST_TEXT = 500

/**
 * A text as one line that a terminal can print: line breaks and control characters (which could move the cursor or
 * set colours, and may stand in file names) become blanks, and what is longer than `longest` characters is cut short.
 */
export function oneLine(text: string, longest = LONGEST_TEXT): string {
  const printable = text.replace(/[\p{Cc}\p{Zl}\p{Zp}\u202a-\u202e\u2066-\u2069]+/gu, ' ').trim()
  const letters = [...printable]
  return letters.length <= longest ? printable : `${letters.slice(0, longest).join('')}...`
}
