import { describe, expect, it } from 'vitest'
import { planPdf } from '../../../src/sheet/plan/planPdf.js'
import type { PaperName } from '../../../src/sheet/input/sheetInput.js'
import { parseWalk } from '../../../src/walk/read/parseWalk.js'
import { planWalk } from '../../../src/walk/plan/planWalk.js'
import { FULL_WALK, SHORT_WALK } from '../../walk/walkText.js'
import { hasPoppler, pageWords, poppler } from '../poppler.js'

const LONG = 'the long eastern breakwater of the old fishing harbour gate seven, upper terrace'
const MANY = FULL_WALK.replace(
  'lights: [day, infrared]',
  `lights: [day, infrared, dusk, lamp, "${LONG.slice(0, 58)}", rain]`,
)
  .replace('North slipway', LONG)
  .replace(/marks: .*/, `marks: [${Array.from({ length: 18 }, (_, n) => `${2 + 1.5 * n} m`).join(', ')}]`)

const walks: Record<string, [text: string, paper: PaperName, pages: number]> = {
  'a full walk': [FULL_WALK, 'A4', 2],
  'a sheet that agrees': [
    FULL_WALK.replace(/ {2}focalLength.*\n {2}sensor.*\n {2}pixelPitch.*\n/, ''),
    'A4',
    2,
  ],
  'a walk that says nothing': [SHORT_WALK, 'A4', 2],
  'a walk in feet on Letter': [FULL_WALK.replace('units: metric', 'units: imperial'), 'Letter', 2],
  'many marks and lights on Letter': [MANY, 'Letter', 4],
  'a camera that looks up': [FULL_WALK.replace('tilt: 12', 'tilt: -40'), 'A4', 2],
}

async function pdfOf(text: string, paper: PaperName): Promise<Uint8Array> {
  const walk = await parseWalk(text, { file: 'walk.yaml', dir: '.', sha256: '' })
  return planPdf(walk, planWalk(walk), paper)
}

describe.skipIf(!hasPoppler())('the walk plan (skipped only where poppler is not installed)', () => {
  for (const [name, [text, paper, pages]] of Object.entries(walks)) {
    it(`keeps all text within the type area, in few pages: ${name}`, async () => {
      const found = pageWords(await pdfOf(text, paper))
      expect(found.length).toBeLessThanOrEqual(pages)
      for (const { width, height, words } of found) {
        for (const word of words) {
          expect(word.xMin, word.text).toBeGreaterThan(48)
          expect(word.xMax, word.text).toBeLessThan(width - 48)
          expect(word.yMax, word.text).toBeLessThan(height - 20)
          expect(word.text, 'a sign the typeface lacks').not.toMatch(/^\?|\?$/)
        }
      }
    })
  }

  it('is tagged, embeds its fonts, bears the walk’s date, and is black and grey alone', async () => {
    const pdf = await pdfOf(FULL_WALK, 'A4')
    expect(poppler('pdfinfo', ['FILE'], pdf)).toMatch(/^Tagged: +yes/m)
    expect(poppler('pdfinfo', ['-isodates', 'FILE'], pdf)).toMatch(/^CreationDate: +2026-03-14/m)
    for (const row of poppler('pdffonts', ['FILE'], pdf).trim().split('\n').slice(2))
      expect(row).toMatch(/SourceSans3-\w+ +CID TrueType +Identity-H +yes yes yes/)
    const text = poppler('pdftotext', ['-layout', 'FILE', '-'], pdf)
    for (const said of ['walk plan', 'contradicts itself', 'nothing is predicted', 'let exposure settle'])
      expect(text).toContain(said)
    expect(text, 'nothing on top of a contradiction').not.toContain('Recognise (125 px/m) to')
    const agrees = FULL_WALK.replace(/ {2}focalLength.*\n {2}sensor.*\n {2}pixelPitch.*\n/, '')
    const foretold = poppler('pdftotext', ['-layout', 'FILE', '-'], await pdfOf(agrees, 'A4'))
    expect(foretold).toMatch(/Recognise \(125 px\/m\) to 19\.59 \(19\.32 to 19\.86\) m/)
    expect(foretold).not.toContain('contradicts itself')
    expect(text).toMatch(/never fit one to a vehicle/)
    expect(foretold).toMatch(/^ *Still +Promised +At +Light +Hold +Limit +Needs, px\/m +Expected$/m)
    expect(foretold).toMatch(/^ *6 +Recognise.* 16 m +day +all +125 px\/m +127 +150\.9 to 155\.2$/m)
    expect(foretold).toMatch(/Recorder’s clock at the start/)
    expect(foretold).toMatch(/^ *Mark +px\/m expected +day: clock +file +infrared: clock +file /m)
    const structure = poppler('pdfinfo', ['-struct', 'FILE'], pdf)
    for (const type of ['H1', 'Figure', 'Table', 'TH', 'LBody'])
      expect(structure).toMatch(new RegExp(`^ *${type}\\b`, 'm'))
  })

  it('is the same bytes for the same walk', async () => {
    expect(await pdfOf(FULL_WALK, 'A4')).toEqual(await pdfOf(FULL_WALK, 'A4'))
  })

  it('says that a simulated walk is one, on every page', async () => {
    const pages = pageWords(await pdfOf(`${FULL_WALK}simulated: true\n`, 'A4'))
    for (const { words } of pages) expect(words.map(({ text }) => text)).toContain('SIMULATED')
  })
})
