import width from 'fast-string-width'
import { escaped } from '../../files/oneLine.js'

type Align = 'left' | 'right'

/** A row of a text table; its note stands on a line of its own beneath it. */
export interface TextRow {
  readonly cells: readonly string[]
  readonly note?: string
}

/** Lays rows out in columns two blanks apart under a head and a rule, by the cells a terminal gives each sign; the last column is never padded. Ends with a newline. */
export function textTable(
  head: readonly string[],
  rows: readonly TextRow[],
  aligns: readonly Align[] = [],
): string {
  const plain = rows.map(({ cells, note }) => ({ cells: cells.map(escaped), note }))
  const widths = head.map((cell, column) =>
    Math.max(width(cell), ...plain.map(({ cells }) => width(cells[column] ?? ''))),
  )
  const line = (cells: readonly string[]): string =>
    `  ${cells
      .map((cell, column) => {
        const fill = ' '.repeat(Math.max(0, widths[column]! - width(cell)))
        return aligns[column] === 'right' ? fill + cell : cell + fill
      })
      .join('  ')
      .trimEnd()}\n`
  const rule = widths.map((size) => '-'.repeat(size))
  const body = plain.map(({ cells, note = '' }) => line(cells) + (note === '' ? '' : `      ${note}\n`))
  return line(head) + line(rule) + body.join('')
}
