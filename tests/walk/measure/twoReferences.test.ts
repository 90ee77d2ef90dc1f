import { createHash } from 'node:crypto'
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import sharp from 'sharp'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { readSheetPdf } from '../../../src/sheet/verify/readSheetPdf.js'
import { verifySheet } from '../../../src/sheet/verify/verifySheet.js'
import { walkSheet } from '../../../src/sheet/acceptance/walkSheet.js'
import { currentResults } from '../../../src/walk/measure/currentResults.js'
import { measureWalk } from '../../../src/walk/measure/measureWalk.js'
import { readWalk } from '../../../src/walk/read/readWalk.js'
import { entryKey, type WalkResults } from '../../../src/walk/schemas/resultsSchema.js'
import { resultsText } from '../../../src/walk/schemas/resultsText.js'
import { verifyFiles } from '../../../src/walk/site/verifyFiles.js'
import {
  boardCorners,
  boardStill,
  panelCorners,
  put,
  SMALL_WALK_PX_PER_RAD,
  smallWalkYaml,
} from '../../journeys/smallWalk.js'
import { temporaryWalk } from '../temporaryWalk.js'
import { strictFaults } from '../writtenStrictly.js'

const MARKS_M = [4, 6, 9]
const fileOf = (distanceM: number): string => `stills/day/${distanceM}m.png`

let dir: string
let results: WalkResults
beforeAll(async () => {
  dir = await mkdtemp(join(tmpdir(), 'proofwalk-two-'))
  const yaml = smallWalkYaml().replace(
    'references:\n',
    'references:\n  panel: { width: 300 mm, height: 100 mm }\n',
  )
  await put(dir, 'walk.yaml', yaml)
  const stills: Record<string, unknown> = {}
  for (const distanceM of MARKS_M) {
    const corners = panelCorners(distanceM).flat()
    const [left, top, right, , , bottom] = corners as [number, number, number, number, number, number]
    const panel = `<svg xmlns="http://www.w3.org/2000/svg" width="1280" height="720"><rect x="${left}" y="${top}" width="${right - left}" height="${bottom - top}" fill="#ddd"/></svg>`
    const bytes = await sharp(await boardStill(distanceM, 'png', distanceM))
      .composite([{ input: Buffer.from(panel) }])
      .png()
      .toBuffer()
    await put(dir, fileOf(distanceM), bytes)
    const sha256 = createHash('sha256').update(bytes).digest('hex')
    stills[fileOf(distanceM)] = [
      { sha256, reference: 'board', corners: boardCorners(distanceM), sigma: 0.5, method: 'hand' },
      { sha256, reference: 'panel', corners: panelCorners(distanceM), sigma: 0.5, method: 'hand' },
    ]
  }
  await put(dir, 'picks.json', JSON.stringify({ format: 'proofwalk-picks/1', stills }))
  results = await measureWalk(await readWalk(dir), { workers: 1 })
  await writeFile(join(dir, 'results.json'), resultsText(results))
}, 60_000)
afterAll(() => rm(dir, { recursive: true, force: true }))

test('a still with two picks gives two entries and two marks, named by file and reference', () => {
  expect(results.failed).toEqual([])
  expect(results.stills.map(entryKey)).toEqual(
    MARKS_M.flatMap((mark) =>
      ['board', 'panel'].map((reference) => entryKey({ file: fileOf(mark), reference })),
    ),
  )
  for (const { distance, density } of results.stills) {
    const truth = SMALL_WALK_PX_PER_RAD / distance!
    expect(density.low).toBeLessThan(truth)
    expect(density.high).toBeGreaterThan(truth)
  }
  expect(results.marks.map(({ reference, distance, stills }) => [reference, distance, stills])).toEqual(
    ['panel', 'board'].flatMap((reference) => MARKS_M.map((mark) => [reference, mark, 1])),
  )
})

test('everything is written that the schema knows, and nothing else', () => {
  expect(strictFaults(results)).toBeUndefined()
  const { scene, ...lacking } = results
  expect([scene, strictFaults(lacking)]).toEqual([null, [expect.objectContaining({ path: ['scene'] })]])
  expect(strictFaults({ ...results, more: 1 })).toHaveLength(1)
})

test('the folder and its sheet belong together; the sheet shows both and counts three stills', async () => {
  const walk = await readWalk(dir)
  expect(await currentResults(walk)).toMatchObject({ results: { stills: { length: 6 } } })
  const { checks } = await verifyFiles(dir)
  expect(checks.map(({ what, matches }) => [what, matches])).toEqual(
    ['walk.yaml', 'picks.json', ...MARKS_M.map(fileOf), 'results.json'].map((what) => [what, true]),
  )
  for (const maskPlates of [false, true]) {
    const sheet = await walkSheet(walk, results, { paper: 'A4', maskPlates })
    const verified = await verifySheet(sheet, 'sheet.pdf')
    expect(verified.checks.filter(({ matches }) => matches !== true)).toEqual([])
    const { text } = await readSheetPdf(sheet, 'sheet.pdf')
    expect(text).toContain('3 stills were measured, 0 not')
    expect(text).not.toContain('no picture')
    for (const series of ['day, board', 'day, panel']) expect(text).toContain(series)
  }
})

test('a pick of one reference that cannot be used leaves the other', async () => {
  const copy = await temporaryWalk({})
  const stills = JSON.parse(await readFile(join(dir, 'picks.json'), 'utf8')) as {
    stills: Record<string, { sha256: string }[]>
  }
  stills.stills[fileOf(6)]![1]!.sha256 = '0'.repeat(64)
  await put(copy, 'picks.json', JSON.stringify(stills))
  await put(copy, 'walk.yaml', await readFile(join(dir, 'walk.yaml')))
  for (const mark of MARKS_M) await put(copy, fileOf(mark), await readFile(join(dir, fileOf(mark))))
  const one = await measureWalk(await readWalk(copy), { workers: 1 })
  expect(one.failed).toMatchObject([{ file: fileOf(6), reference: 'panel', code: 'pick-stale', distance: 6 }])
  expect(one.stills).toHaveLength(5)
})
