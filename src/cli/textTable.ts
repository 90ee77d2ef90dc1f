type Align = 'left' | 'right'

/** Lays rows out in columns two blanks apart under a head and a rule; the last column is never padded. Ends with a newline. */
export function textTable(
  head: readonly string[],
  rows: readonly (readonly string[])[],
  aligns: readonly Align[] = [],
): string {
  const widths = head.map((cell, column) =>
    Math.max(width(cell), ...rows.map((row) => width(row[column] ?? ''))),
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
  return line(head) + line(rule) + rows.map(line).join('')
}

/** Characters as a reader counts them, not code units. */
function width(text: string): number {
  return [...text].length
}
