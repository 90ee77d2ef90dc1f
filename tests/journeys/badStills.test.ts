import { execFileSync } from 'node:child_process'
import { chmod, link, mkdir, readFile, rm, symlink, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import sharp from 'sharp'
import { expect, test } from 'vitest'
import { type WalkResults, resultsSchema } from '../../src/walk/schemas/resultsSchema.js'
import { runCommand } from '../cli/recordingTerminal.js'
import { folderState } from './folderState.js'
import { BIN, runProgram, runProofwalk } from './runProofwalk.js'
import { boardCorners, boardStill, put, putPicks } from './smallWalk.js'
import { temporaryHome } from './temporaryHome.js'

const home = temporaryHome()

/** What results.json must say of a file: a code (null where it is unassigned) and its reason with the mend. */
type Told = readonly [code: string | null, message: RegExp]

const TOLD: Readonly<Record<string, Told>> = {
  'stills/day/7m.jpg': ['still-cut-short', /cut short.*export the still again/],
  'stills/day/8m.jpg': ['still-empty', /empty; export the still again/],
  'stills/day/10m.jpg': ['still-not-a-picture', /export/],
  'stills/day/10m-gif.png': ['still-wrong-format', /.+/],
  'stills/day/11m.png': ['pick-stale', /has changed since its corners were picked; pick them again/],
  'stills/day/12m.jpg': ['pick-without-still', /no such still was found; put it back or delete its entry/],
  'stills/day/13m.png': ['still-too-large', /100000 x 2 px.*export a single still/],
  'stills/day/14m.jpg': ['still-link', /is a link; put the still itself there/],
  'stills/day/6m-line.jpg': ['corners-collinear', /.+/],
  'stills/day/6m-crossed.jpg': ['corners-crossed', /.+/],
  'stills/day/6m-outside.jpg': ['corners-outside', /.+/],
  'stills/day/6m-untold.jpg': ['reference-unknown', /names "bord".*did you mean board\?/],
  'stills/day/6m-nopick.jpg': ['no-pick', /no corners yet/],
  'stills/day/16.jpg': [null, /rename it to 16m\.jpg or 16ft\.jpg/],
  'stills/day/export.jpg': [null, /begin its name with the distance/],
  'stills/day/0m.jpg': [null, /no (length|distance)/],
  'stills/day/9m.mp4': [null, /is a video; export a still at full size.*ffmpeg/],
  'stills/day/9m.heic': [null, /is HEIC.*export it as JPEG/],
  'stills/day/9m.txt': [null, /which is not a picture/],
  'stills/day/15m.jpg': [null, /pipe, socket or device; put the still itself there/],
  'stills/day/17m.jpg': [null, /link out of the walk's folder; copy the file itself there/],
  'stills/day/18m.jpg': [null, /is a link that leads nowhere.*copy the file itself there/],
  'stills/dya/4m.jpg': [null, /its folder says dya, the walk's light is day; did you mean day\?/],
  'stills/5m.jpg': [null, /is not in the folder of a light; move it to stills\/day\//],
}

test('every still that cannot be measured is told with its reason and mend, the rest is measured, and no input is touched', async () => {
  const dir = await home.freshWalk('bad-stills')
  const day = join(dir, 'stills/day')
  const good = await readFile(join(day, '6m.jpg'))
  const copies = [
    '6m-line',
    '6m-crossed',
    '6m-outside',
    '6m-untold',
    '6m-nopick',
    '16',
    '0m',
    'export',
    '12m',
  ]
  for (const name of copies) await put(day, `${name}.jpg`, good)
  await put(day, '7m.jpg', good.subarray(0, good.length - 3000))
  await put(day, '8m.jpg', '')
  await put(day, '10m.jpg', 'not a picture at all')
  await put(day, '10m-gif.png', await sharp(good).gif().toBuffer())
  await put(day, '11m.png', await boardStill(11, 'png', 3))
  await put(day, '13m.png', await widePng())
  for (const name of ['9m.mp4', '9m.heic', '9m.txt']) await put(day, name, 'x')
  await put(dir, 'stills/dya/4m.jpg', good)
  await put(dir, 'stills/5m.jpg', good)
  await put(home.path(), 'elsewhere.jpg', good)
  const [a, b, c, d] = boardCorners(6) as [
    [number, number],
    [number, number],
    [number, number],
    [number, number],
  ]
  const special: Record<string, [number, number][]> = {
    '6m-line.jpg': [a, b, [b[0] + 100, b[1]], d],
    '6m-crossed.jpg': [a, c, b, d],
    '6m-outside.jpg': [a, [5000, b[1]], [5000, c[1]], d],
  }
  const named = Object.keys(TOLD).filter((file) => file.startsWith('stills/day/') && !file.includes('nopick'))
  const picked = ['4m.jpg', '6m.jpg', '9m.jpg', ...named.map((file) => file.slice('stills/day/'.length))]
  for (const name of ['14m.jpg', '15m.jpg', '17m.jpg', '18m.jpg']) await put(day, name, good) // replaced below
  await putPicks(
    dir,
    picked.map((name) => ({
      file: `stills/day/${name}`,
      corners: special[name] ?? boardCorners(Number.parseInt(name, 10) || 6),
    })),
  )
  const picks = await readFile(join(dir, 'picks.json'), 'utf8')
  const { stills } = JSON.parse(picks) as { stills: Record<string, { reference: string }> }
  stills['stills/day/6m-untold.jpg']!.reference = 'bord'
  await put(dir, 'picks.json', JSON.stringify({ format: 'proofwalk-picks/1', stills }))
  await put(day, '11m.png', await boardStill(11, 'png', 4))
  for (const name of ['12m.jpg', '14m.jpg', '15m.jpg', '17m.jpg', '18m.jpg']) await rm(join(day, name))
  await symlink('6m.jpg', join(day, '14m.jpg'))
  execFileSync('mkfifo', [join(day, '15m.jpg')])
  await symlink(home.path('elsewhere.jpg'), join(day, '17m.jpg'))
  await symlink('nowhere.jpg', join(day, '18m.jpg'))
  const before = await folderState(dir)

  // In a process of its own, so that what is wrong with a still crosses from a thread.
  const run = await runProofwalk(['measure', dir])
  expect(run.err).toBe('')
  expect(run.status).toBe(0)
  expect(await folderState(dir, ['results.json'])).toEqual(before)
  const results = await resultsIn(dir)
  expect(results.stills.map(({ file }) => file)).toEqual(
    ['4m', '6m', '9m'].map((name) => `stills/day/${name}.jpg`),
  )
  const told = [...results.failed, ...results.unassigned.map((one) => ({ ...one, code: null }))]
  expect(Object.fromEntries(told.map(({ file, code }) => [file, code]))).toEqual(
    Object.fromEntries(Object.entries(TOLD).map(([file, [code]]) => [file, code])),
  )
  for (const { file, message } of told) {
    expect(message, file).toMatch(TOLD[file]![1])
    expect(run.out).toContain(`  ${file}: ${message}\n`)
  }
})

test('corners clicked anticlockwise measure the same', async () => {
  const dir = await home.freshWalk('anticlockwise')
  await runCommand('measure', dir)
  const before = (await resultsIn(dir)).stills.map(({ density }) => density)
  const reversed = (distanceM: number): [number, number][] => {
    const [a, b, c, d] = boardCorners(distanceM)
    return [a!, d!, c!, b!]
  }
  await putPicks(
    dir,
    [4, 6, 9].map((mark) => ({ file: `stills/day/${mark}m.jpg`, corners: reversed(mark) })),
  )
  await runCommand('measure', dir)
  expect((await resultsIn(dir)).stills.map(({ density }) => density)).toEqual(before)
})

test('a still that may not be read is told, and the rest is measured', async () => {
  const dir = await home.freshWalk('locked')
  await chmod(join(dir, 'stills/day/6m.jpg'), 0)
  // root may read everything, so as root the command runs without that right
  const asUser = [process.execPath, BIN, 'measure', dir]
  const withoutRight = ['setpriv', '--bounding-set', '-dac_override,-dac_read_search', '--', ...asUser]
  const [program = '', ...args] = process.getuid?.() === 0 ? withoutRight : asUser
  const run = await runProgram(program, args)
  expect(run.err).toBe('')
  const results = await resultsIn(dir)
  expect(results.stills).toHaveLength(2)
  expect([...results.failed, ...results.unassigned]).toEqual([
    expect.objectContaining({
      file: 'stills/day/6m.jpg',
      message: expect.stringMatching(/allow reading it|right to read/) as string,
    }),
  ])
})

test('a file name that would break the table or steer the terminal is printed in one line', async () => {
  const dir = await home.freshWalk('steering')
  const name = '4\n\u001b[31mred.jpg'
  await link(join(dir, 'stills/day/4m.jpg'), join(dir, 'stills/day', name))
  const run = await runCommand('measure', dir)
  expect(run.out).not.toContain('\u001b')
  expect(run.out).toMatch(/^ {2}stills\/day\/4\\u000a\\u001b\[31mred\.jpg: /m)
})

test('where no still can be measured results are written and the status is 1; a later fault of the walk leaves them as they were and it is 2', async () => {
  const dir = await home.freshWalk('nothing')
  await rm(join(dir, 'picks.json'))
  const first = await runCommand('measure', dir)
  expect(first.status).toBe(1)
  expect(first.out.trimEnd().split('\n').at(-1)).toBe(`Next: proofwalk pick ${dir}`)
  const sheet = await runCommand('sheet', dir)
  expect([sheet.status, sheet.out.split('\n')]).toEqual([
    0,
    [join(dir, 'sheet.pdf'), 'no still was measured: this sheet is empty', `Next: proofwalk pick ${dir}`, ''],
  ])
  const before = await folderState(dir)
  await put(dir, 'walk.yaml', 'site: Net loft\nlihgts: [day]\n')
  expect((await runCommand('measure', dir)).status).toBe(2)
  expect(await folderState(dir, ['walk.yaml'])).toEqual(
    Object.fromEntries(Object.entries(before).filter(([file]) => file !== 'walk.yaml')),
  )
})

test('a promise that a failed still leaves unshown makes the status 1, and names no verdict it cannot bear out', async () => {
  const dir = await home.freshWalk('unshown')
  for (const mark of [4, 6, 9]) await writeFile(join(dir, `stills/day/${mark}m.jpg`), '')
  await mkdir(join(dir, 'stills/day/5m.jpg'))
  const run = await runCommand('measure', dir, '--json')
  expect(run.status).toBe(1)
  const { promises, failed } = JSON.parse(run.out) as WalkResults
  expect(promises.map(({ verdict, value }) => [verdict, value])).toEqual([['not shown', null]])
  expect(failed.map(({ code }) => code)).toEqual(['still-empty', 'still-empty', 'still-empty'])
})

async function resultsIn(dir: string): Promise<WalkResults> {
  return resultsSchema.parse(JSON.parse(await readFile(join(dir, 'results.json'), 'utf8')))
}

function widePng(): Promise<Buffer> {
  return sharp(Buffer.alloc(200_000), { raw: { width: 100_000, height: 2, channels: 1 } })
    .png()
    .toBuffer()
}
