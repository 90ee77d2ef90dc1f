import { execFileSync } from 'node:child_process'
import { mkdtemp, readFile, symlink, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { beforeAll, describe, expect, test } from 'vitest'
import sharp from 'sharp'
import { runCommand } from '../cli/recordingTerminal.js'
import { hasPoppler, poppler } from '../sheet/poppler.js'
import { folderState } from './folderState.js'
import { put, smallWalkYaml } from './smallWalk.js'
import { temporaryHome } from './temporaryHome.js'

const home = temporaryHome()
const NAMES = ['Żółta Łódź, Gdańsk', 'Αποβάθρα Πειραιά', 'Причал «Север»']

async function walkAt(name: string, site: string, more = ''): Promise<string> {
  const dir = await home.freshWalk(name)
  await put(dir, 'walk.yaml', smallWalkYaml(more).replace('site: Net loft', `site: ${site}`))
  return dir
}

describe.skipIf(!hasPoppler())('the sheet of a walk (skipped only where poppler is not installed)', () => {
  let dir: string
  let pdf: Buffer
  beforeAll(async () => {
    dir = await walkAt('sheet', NAMES[0]!)
    const run = await runCommand('sheet', dir)
    expect(run.status, run.err).toBe(0)
    pdf = await readFile(join(dir, 'sheet.pdf'))
  }, 120_000)

  test('declares PDF/A-3a and is tagged', () => {
    const meta = poppler('pdfinfo', ['-meta', 'FILE'], pdf)
    expect(meta).toMatch(/<pdfaid:part>3<\/pdfaid:part>/)
    expect(meta).toMatch(/<pdfaid:conformance>A<\/pdfaid:conformance>/)
    expect(poppler('pdfinfo', ['FILE'], pdf)).toMatch(/^Tagged: +yes$/m)
  })

  test('embeds every font', () => {
    const rows = poppler('pdffonts', ['FILE'], pdf).trim().split('\n').slice(2)
    expect(rows.length).toBeGreaterThan(0)
    // name, type, encoding, then: embedded, subset, unicode
    for (const row of rows) expect(row).toMatch(/ yes +yes +yes +\d+ +\d+$/)
  })

  test("attaches results.json, walk.yaml and picks.json as they lie in the walk's folder", async () => {
    const list = poppler('pdfdetach', ['-list', 'FILE'], pdf)
    const names = [...list.matchAll(/^\d+: (.+)$/gm)].map(([, name]) => name)
    expect(names.sort()).toEqual(['picks.json', 'results.json', 'walk.yaml'])
    const out = await mkdtemp(home.path('detached-'))
    execFileSync('pdfdetach', ['-saveall', '-o', out, join(dir, 'sheet.pdf')])
    for (const name of names) {
      expect(await readFile(join(out, name!))).toEqual(await readFile(join(dir, name!)))
    }
  })

  test('reads as text: what was promised and how it came out, every mark, and the cautions on both ends', () => {
    const pages = poppler('pdftotext', ['-layout', 'FILE', '-'], pdf).split('\f').slice(0, -1)
    const first = pages[0]!.replace(/\s+/g, ' ')
    expect(first).toContain('1 of 1 promise met')
    expect(first).toContain('Observe at 9 m')
    expect(pages.join(' ')).not.toContain('SIMULATED')
    for (const words of ['4 m', '6 m', '9 m']) expect(pages.join(' ')).toContain(words)
    for (const page of [first, pages.at(-1)!]) expect(page).toContain('never identity')
  })

  test('is the same to the byte from results that were there already', async () => {
    const own = await walkAt('measured-before', NAMES[0]!)
    await runCommand('measure', own)
    expect((await sheetOf(own)).equals(pdf)).toBe(true)
    expect((await sheetOf(own)).equals(pdf)).toBe(true)
  })

  test.each(NAMES)('prints the name %s so that it can be read out again', async (site) => {
    const own = site === NAMES[0] ? pdf : await sheetOf(await walkAt('named', site))
    expect(poppler('pdftotext', ['-f', '1', '-l', '1', 'FILE', '-'], own)).toContain(site)
  })

  test('sets on Letter, and masks references, where that is asked for', async () => {
    const out = home.path('letter.pdf')
    await runCommand('sheet', dir, '--paper', 'Letter', '--mask-plates', '--out', out)
    expect(poppler('pdfinfo', ['FILE'], await readFile(out))).toMatch(/^Page size: +612 x 792 pts/m)
  })

  test('takes a logo of any kind of picture, also one that is transparent, without its EXIF', async () => {
    const own = await walkAt('logo', 'Net loft', 'issuer: { name: Ours, logo: logo.webp }\n')
    const logo = sharp({ create: { width: 60, height: 20, channels: 4, background: '#20406080' } })
    await put(
      own,
      'logo.webp',
      await logo
        .withExif({ IFD0: { Artist: 'nobody we know' } })
        .webp()
        .toBuffer(),
    )
    const bytes = await sheetOf(own)
    expect(poppler('pdftotext', ['FILE', '-'], bytes)).toContain('Ours')
    expect(poppler('pdfimages', ['-list', 'FILE'], bytes)).toMatch(/ 60 +20 /)
    expect(bytes.includes('nobody we know')).toBe(false)
  })
})

test.each<[string, (logo: string) => unknown]>([
  ['is not there', () => undefined],
  ['is not a picture', (logo) => writeFile(logo, 'logo')],
  ['is a pipe', (logo) => execFileSync('mkfifo', [logo])],
  ['is a link out of the walk', (logo) => symlink('/etc/hostname', logo)],
])('a logo that %s is told in one line, and the last sheet stays', async (_, make) => {
  const dir = await walkAt('bad-logo', 'Net loft', 'issuer: { name: Ours, logo: logo.png }\n')
  await put(dir, 'sheet.pdf', '%PDF-1.7 the last one')
  await make(join(dir, 'logo.png'))
  const run = await runCommand('sheet', dir)
  expect([run.status, run.out]).toEqual([2, ''])
  const [first, ...faults] = run.err.trimEnd().split('\n')
  expect(first).toMatch(/^measuring first: /)
  expect(faults).toEqual([
    expect.stringMatching(
      /walk\.yaml: issuer\.logo: "logo\.png": .+; put the picture there or delete the line$/,
    ),
  ])
  expect(await readFile(join(dir, 'sheet.pdf'), 'utf8')).toBe('%PDF-1.7 the last one')
})

test('a results.json that is a pipe is not waited for, and one that is spoilt is measured anew', async () => {
  const dir = await home.freshWalk('odd-results')
  execFileSync('mkfifo', [join(dir, 'results.json')])
  const run = await runCommand('sheet', dir)
  expect([run.status, run.err]).toEqual([0, 'measuring first: there are no results yet\n'])
  const whole = await folderState(dir)
  const text = await readFile(join(dir, 'results.json'), 'utf8')
  await put(dir, 'results.json', text.slice(0, text.length / 2))
  const again = await runCommand('sheet', dir)
  expect([again.status, again.err]).toEqual([0, 'measuring first: results.json is not of this version\n'])
  expect(await folderState(dir)).toEqual(whole)
})

async function sheetOf(dir: string): Promise<Buffer> {
  const run = await runCommand('sheet', dir)
  expect(run.status, run.err).toBe(0)
  return readFile(join(dir, 'sheet.pdf'))
}
