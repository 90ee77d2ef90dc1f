import { median } from '../../src/math/median.js'

/** What a still's k should say: read under half is too little, nine tenths and more is legible. */
export const UNREAD = 0.5
export const LEGIBLE = 0.9
/** A promise is so much under what is there, to see whether it is met. */
export const ROOM = 1.1

export const mean = (all: readonly number[]): number => all.reduce((sum, one) => sum + one, 0) / all.length
export const shown = (all: readonly number[], digits: number): string =>
  all.length === 0 ? '-' : median(all).toFixed(digits)

/** Lines of words as columns of text. */
export const aligned = (lines: readonly (readonly string[])[]): string => {
  const widths = lines[0]!.map((_, column) => Math.max(...lines.map((line) => line[column]!.length)))
  return lines
    .map((line) =>
      line
        .map((word, column) => (column === 0 ? word.padEnd(widths[0]!) : word.padStart(widths[column]!)))
        .join('  '),
    )
    .join('\n')
}
