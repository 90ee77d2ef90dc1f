import { execFileSync } from 'node:child_process'
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { beforeAll, describe, expect, it } from 'vitest'
import { writeSheet } from '../../../src/sheet/acceptance/writeSheet.js'
import type { SheetInput } from '../../../src/sheet/input/sheetInput.js'
import { inventedResults } from '../inventedResults.js'
import { hasPoppler, poppler, withFile } from '../poppler.js'
import { sheetInputOf } from '../sheetOf.js'

describe.skipIf(!hasPoppler())('the sheet as a file (skipped only where poppler is not installed)', () => {
  let input: SheetInput
  let pdf: Uint8Array

  beforeAll(async () => {
    input = await sheetInputOf(
      inventedResults({
        site: 'Żółta Łódź & Spółka <Gdańsk>',
        camera: 'Κάμερα αποβάθρας Ψ-7',
        client: 'Управление порта «Север»',
      }),
    )
    pdf = await writeSheet(input)
  }, 120_000)

  it('declares PDF/A-3a in metadata that is well formed although the site is called "A & B"', () => {
    const meta = poppler('pdfinfo', ['-meta', 'FILE'], pdf)
    expect(meta).toMatch(/<pdfaid:part>3<\/pdfaid:part>/)
    expect(meta).toMatch(/<pdfaid:conformance>A<\/pdfaid:conformance>/)
    expect(meta).toContain('Żółta Łódź &amp; Spółka &lt;Gdańsk&gt;')
    expect(meta).not.toMatch(/&(?!amp;|lt;|gt;|quot;)/)
  })

  it('carries the title unescaped in its information dictionary, and the walk’s date instead of a clock’s', () => {
    const info = poppler('pdfinfo', ['-isodates', 'FILE'], pdf)
    expect(info).toMatch(/^Title: +Żółta Łódź & Spółka <Gdańsk>, Κάμερα αποβάθρας Ψ-7: acceptance sheet/m)
    expect(info).toMatch(/^CreationDate: +2026-03-14T12:00:00/m)
    expect(info).toMatch(/^ModDate: +2026-03-14T12:00:00/m)
    expect(info).toMatch(/^Tagged: +yes/m)
  })

  it('embeds a subset of every font it uses', () => {
    const rows = poppler('pdffonts', ['FILE'], pdf).trim().split('\n').slice(2)
    expect(rows.length).toBeGreaterThan(0)
    for (const row of rows) {
      expect(row).toMatch(/SourceSans3-\w+ +CID TrueType +Identity-H +yes yes yes/)
    }
  })

  it('carries results, walk and picks inside, byte for byte', () => {
    withFile(pdf, (file, dir) => {
      execFileSync('pdfdetach', ['-saveall', '-o', dir, file])
      expect([...readFileSync(join(dir, 'results.json'))]).toEqual([...input.attachments.results])
      expect([...readFileSync(join(dir, 'walk.yaml'))]).toEqual([...input.attachments.walk!])
      expect([...readFileSync(join(dir, 'picks.json'))]).toEqual([...input.attachments.picks!])
    })
  })

  it('attaches only what there is', async () => {
    const bare = await writeSheet({
      ...input,
      attachments: { ...input.attachments, walk: null, picks: null },
    })
    expect(poppler('pdfdetach', ['-list', 'FILE'], bare)).toMatch(/1 embedded file/)
  })

  it('prints Polish, Greek and Cyrillic names as text that can be read out again', () => {
    const text = poppler('pdftotext', ['-f', '1', '-l', '1', 'FILE', '-'], pdf)
    expect(text).toContain('Żółta Łódź & Spółka <Gdańsk>')
    expect(text).toContain('Κάμερα αποβάθρας Ψ-7')
    expect(text).toContain('Управление порта «Север»')
  })

  it('tags headings, tables with their heads, figures with words for who cannot see them, and lists', () => {
    const structure = poppler('pdfinfo', ['-struct', 'FILE'], pdf)
    for (const tag of [
      'Document',
      'Sect',
      'H1',
      'H2',
      'H3',
      'P',
      'Table',
      'TR',
      'TH',
      'TD',
      'Figure',
      'L',
      'LI',
    ])
      expect(structure).toMatch(new RegExp(`^ *${tag}\\b`, 'm'))
  })

  it('says in its first page’s order what a buyer asks first, and the cautions on the first and last page', () => {
    const pages = poppler('pdftotext', ['-layout', 'FILE', '-'], pdf).split('\f').slice(0, -1)
    const [first = ''] = pages
    const order = [
      'Żółta',
      '2 of 5 promises met',
      'Recognise at 16 m',
      'Density on the reference',
      'Signature',
      'never identity',
    ]
    const places = order.map((words) => first.indexOf(words))
    expect(places.every((place) => place >= 0)).toBe(true)
    expect(places).toEqual([...places].sort((a, b) => a - b))
    const last = (pages.at(-1) ?? '').replace(/\s+/g, ' ')
    for (const words of ['never identity', 'subject standing still', 'not a certificate', 'share with care'])
      expect(last).toContain(words)
  })
})
