import { seededRandom } from '../../math/random.js'

/** Cells of a card's code: dark ones are 1. */
export const CODE_COLUMNS = 11
export const CODE_ROWS = 2
/** Numbers of cards that there are codes for: 1 to this. */
export const MOST_CARDS = 40

const CELLS = CODE_COLUMNS * CODE_ROWS
/** Of two codes so many cells differ at least, and where one is taken a cell aside. */
const APART = 6
const APART_ASIDE = 5
/** Cells between the ends, which are dark, and how many of them are dark. */
const LEAST_DARK = 8
const MOST_DARK = 10
/** Never changed: printed cards carry it. */
const SEED = 18

/** The cells of every card's code, row by row; entry 0 is card 1. */
export const letterCodes = ((): (() => readonly (readonly number[])[]) => {
  let drawn: (readonly number[])[] | undefined
  return () => (drawn ??= drawCodes())
})()

function drawCodes(): (readonly number[])[] {
  const random = seededRandom(SEED)
  const codes: (readonly number[])[] = []
  while (codes.length < MOST_CARDS) {
    const code = Array.from({ length: CELLS }, (_, cell): number => {
      const column = cell % CODE_COLUMNS
      return column === 0 || column === CODE_COLUMNS - 1 || random.uniform() < 0.5 ? 1 : 0
    })
    const dark = code.reduce((sum, cell) => sum + cell, 0) - 2 * CODE_ROWS
    if (dark < LEAST_DARK || dark > MOST_DARK) continue
    if (codes.every((other) => isApart(code, other))) codes.push(code)
  }
  return codes
}

function isApart(one: readonly number[], other: readonly number[]): boolean {
  for (const down of [-1, 0, 1])
    for (const aside of [-1, 0, 1]) {
      const least = down === 0 && aside === 0 ? APART : APART_ASIDE
      if (differing(one, other, aside, down) < least) return false
    }
  return true
}

/** Cells that differ where the other code lies so many cells aside; beyond a code all is paper. */
function differing(one: readonly number[], other: readonly number[], aside: number, down: number): number {
  const cell = (code: readonly number[], column: number, row: number): number =>
    column < 0 || column >= CODE_COLUMNS || row < 0 || row >= CODE_ROWS
      ? 0
      : code[row * CODE_COLUMNS + column]!
  let count = 0
  for (let row = -1; row <= CODE_ROWS; row += 1)
    for (let column = -1; column <= CODE_COLUMNS; column += 1)
      if (cell(one, column, row) !== cell(other, column - aside, row - down)) count += 1
  return count
}
