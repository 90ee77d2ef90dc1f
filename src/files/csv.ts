/** Rows as comma-separated text (RFC 4180): a field with a comma, a quote or a line's end stands in quotes, lines end in CR LF. */
export function csvText(rows: readonly (readonly (string | number | null)[])[]): string {
  const field = (value: string | number | null): string => {
    const text = value === null ? '' : String(value)
    return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text
  }
  return rows.map((row) => `${row.map(field).join(',')}\r\n`).join('')
}

/**
 * A text that a spreadsheet shows and does not run: with an apostrophe before it where it begins as a formula does and is no number, as is common practice (OWASP, CSV Injection).
 */
export function notRun(text: string): string {
  return /^[=+\-@\t\r]/.test(text) && !/^[+-]?\d+(?:\.\d+)?$/.test(text) ? `'${text}` : text
}

/** A row of a file and the line it begins on, counted from 1. */
export interface CsvRow {
  readonly line: number
  readonly fields: readonly string[]
}

/**
 * The rows of separated text: fields in quotes may hold the separator, line ends and doubled quotes. The separator is the one of comma, semicolon and tab that the
 * first line holds most of. Empty rows are left out. `unclosed` is the line of a quote that never ends, else null.
 */
export function parseCsv(text: string): {
  readonly rows: readonly CsvRow[]
  readonly unclosed: number | null
} {
  const plain = text.replace(/^\uFEFF/, '')
  const separator = separatorOf(plain)
  const rows: CsvRow[] = []
  let fields: string[] = []
  let [field, line, began] = ['', 1, 1]
  let quotedFrom: number | null = null
  const endField = (): void => {
    fields.push(field.trim())
    field = ''
  }
  const endRow = (): void => {
    endField()
    if (fields.some((one) => one !== '')) rows.push({ line: began, fields })
    fields = []
  }
  for (let at = 0; at < plain.length; at += 1) {
    const sign = plain[at]!
    if (sign === '\n') line += 1
    if (quotedFrom !== null) {
      if (sign !== '"') field += sign
      else if (plain[at + 1] === '"') field += plain[++at]!
      else quotedFrom = null
    } else if (sign === '"' && field.trim() === '') {
      field = ''
      quotedFrom = line
    } else if (sign === separator) endField()
    else if (sign === '\n') {
      endRow()
      began = line
    } else if (sign !== '\r') field += sign
  }
  endRow()
  return { rows, unclosed: quotedFrom }
}

function separatorOf(text: string): string {
  const first = /^[^\r\n]*/.exec(text)?.[0] ?? ''
  const count = (sign: string): number => first.split(sign).length - 1
  return [',', ';', '\t'].reduce((most, sign) => (count(sign) > count(most) ? sign : most))
}
