import { parse } from 'csv-parse/sync'
import { expect, test } from 'vitest'
import { seededRandom } from '../../src/math/random.js'
import { csvText, parseCsv } from '../../src/files/csv.js'

// The reader of csv-parse, a general library, as the witness. It does not read in the product: of a quote that never ends it tells the file's last line.

const SIGNS = ['a', 'ż', '7', '5"', '"', '""', ',', ';', '\t', '\n', '\r\n', '\r', ' ', "'", '東']

/** Rows of random text with a first line of plain names, as a table has. */
function randomRows(seed: number): string[][] {
  const random = seededRandom(seed)
  const pick = (most: number): number => Math.floor(random.uniform() * most)
  const field = (): string => Array.from({ length: pick(7) }, () => SIGNS[pick(SIGNS.length)]!).join('')
  const width = 2 + pick(4)
  return [
    Array.from({ length: width }, (_, at) => `name${at}`),
    ...Array.from({ length: 1 + pick(6) }, () => [
      `x${field()}`,
      ...Array.from({ length: width - 1 }, field),
    ]),
  ]
}

test('what is written is read by another reader as it was', () => {
  for (let seed = 1; seed <= 300; seed += 1) {
    const rows = randomRows(seed)
    expect(parse(csvText(rows), { record_delimiter: '\r\n' }), `seed ${seed}`).toEqual(rows)
  }
})

test('what another reader reads is read alike, fields without the blanks about them, each row on the line it begins', () => {
  const quoted = (text: string): string => `"${text.replaceAll('"', '""')}"`
  for (let seed = 1; seed <= 300; seed += 1) {
    for (const [separator, end] of [
      [',', '\r\n'],
      [';', '\n'],
      ['\t', '\n'],
    ] as const) {
      const lines = randomRows(seed).map((row) =>
        row.map((one) => (/[^a-z0-9]/i.test(one) ? quoted(one) : one)).join(separator),
      )
      const read: string[][] = parse(lines.join(end), { delimiter: separator, record_delimiter: end })
      expect(parseCsv(lines.join(end)).rows, `seed ${seed}`).toEqual(
        read.map((record, at) => ({
          line: lines.slice(0, at).join(end).split('\n').length + (at > 0 ? 1 : 0),
          fields: record.map((one) => one.trim()),
        })),
      )
    }
  }
})
