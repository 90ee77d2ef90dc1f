import { readFileSync, readdirSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { describe, expect, test } from 'vitest'
import { measureTable } from '../../src/cli/measure/measureTable.js'
import { asSentence } from '../../src/sentences.js'
import { resultsSchema, type WalkResults } from '../../src/walk/schemas/resultsSchema.js'
import { hasPoppler, poppler } from './poppler.js'
import { sheetOf } from './sheetOf.js'

const WALKS = fileURLToPath(new URL('../../fixtures/walks', import.meta.url))
const names = readdirSync(WALKS, { withFileTypes: true }).flatMap((entry) =>
  entry.isDirectory() ? [entry.name] : [],
)

const INTERVAL = /^[\d.]+ to [\d.]+$/

/** A row of the table that has a density with its interval: its cells up to there, and those behind. */
interface PrintedRow {
  readonly before: readonly string[]
  readonly density: string
  readonly interval: string
  readonly behind: readonly string[]
}

/** The rows of densities of what `measure` prints: marks, and promises. */
function densityRows(table: string): PrintedRow[] {
  return table.split('\n').flatMap((line) => {
    const cells = line.trim().split(/ {2,}/)
    const at = cells.findIndex((cell) => INTERVAL.test(cell))
    if (at < 1) return []
    return [
      {
        before: cells.slice(0, at - 1),
        density: cells[at - 1]!,
        interval: cells[at]!,
        behind: cells.slice(at + 1),
      },
    ]
  })
}

/** A text without what breaking it into lines and columns adds. */
function squeezed(text: string): string {
  return text.normalize('NFKC').replace(/\s+/g, '')
}

/** The sheet as read by poppler, in the order it was drawn: what stands side by side in a row follows one another. */
async function sheetText(results: WalkResults): Promise<string> {
  const pdf = await sheetOf(results, { crops: [] })
  return squeezed(poppler('pdftotext', ['-raw', 'FILE', '-'], pdf))
}

describe.skipIf(!hasPoppler())(
  'the sheet says every figure as the table does (skipped only where poppler is not installed)',
  () => {
    test('there are walks in metres and in feet', () => {
      expect(names.filter((name) => name.endsWith('-feet')).length).toBeGreaterThan(1)
      expect(names.filter((name) => !name.endsWith('-feet')).length).toBeGreaterThan(1)
    })

    test.each(names)('%s', async (name) => {
      const results = resultsSchema.parse(
        JSON.parse(readFileSync(join(WALKS, name, 'results.json'), 'utf8')) as unknown,
      )
      const isMetric = results.walk.units === 'metric'
      const unit = isMetric ? 'px/m' : 'px/ft'
      const sheet = await sheetText(results)
      const table = measureTable(results)
      const rows = densityRows(table)
      const { marks, promises } = results
      const valued = promises.filter(({ low }) => low !== null)
      expect(rows).toHaveLength(marks.length + valued.length)

      marks.forEach(({ stills }, index) => {
        const { before, density, interval, behind } = rows[index]!
        const distance = before[0]!.replace(/ (m|ft)$/, '')
        const inMetres = isMetric ? '' : behind[0]!
        expect(sheet, `the ${before[0]} mark`).toContain(
          squeezed(`${distance}${stills}${density}${interval}${inMetres}`),
        )
        expect(sheet, `below the picture at ${before[0]}`).toContain(`${density}${unit}`)
      })
      valued.forEach((promise, index) => {
        const { before, density, interval } = rows[marks.length + index]!
        const claim = squeezed(`${before[0]} at ${before[1]}`)
        const from = sheet.indexOf(claim)
        expect(from, claim).toBeGreaterThan(0)
        const own = sheet.slice(from, sheet.indexOf(promise.verdict.replace(/\s/g, ''), from))
        expect(table).toContain(promise.why)
        expect(own).toContain(squeezed(asSentence(promise.why)))
        expect(own).toContain(squeezed(`${density}${interval}`))
      })
      const holds = table.slice(table.indexOf('How far each grade holds'))
      const reaches = holds.match(/[\d.]+ (?:m|ft) \([\d.]+ to [\d.]+\)/g) ?? []
      const told = results.ranges.filter(
        ({ basis, distance, low, high }) =>
          (basis === 'pixels' || results.walk.judge === 'detail') && ![distance, low, high].includes(null),
      )
      expect(reaches).toHaveLength(told.length)
      for (const reach of reaches)
        expect(sheet, `holds to ${reach}`).toContain(squeezed(reach.replace(/ (?:m|ft)/, '')))
    })
  },
)
