import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import sharp from 'sharp'
import { describe, expect, test } from 'vitest'
import { readWalk } from '../../src/walk/read/readWalk.js'
import { temporaryWalk } from '../walk/temporaryWalk.js'
import { runCommand } from './recordingTerminal.js'

test('a walk is made with its folders, reads as it stands, and names the next command', async () => {
  const dir = await temporaryWalk({})
  const walkDir = join(dir, 'my camera')
  const options = ['--carry', 'plate-eu', '--carry', '600x400mm', '--promise', 'read a plate at 14 m in ir']
  const { out, err, status } = await runCommand('new', walkDir, ...options, '--field-of-view', '100 x 52')
  expect([err, status]).toEqual(['', 0])
  expect(out.trimEnd().split('\n').at(-1)).toBe(`Next: proofwalk plan '${walkDir}'`)
  expect(await readdir(join(walkDir, 'stills'))).toEqual(['day', 'infrared'])
  const walk = await readWalk(walkDir)
  expect(walk).toMatchObject({
    site: 'my camera',
    judge: 'detail',
    camera: { name: 'my camera', fieldOfViewDeg: { horizontal: 100, vertical: 52 }, image: null },
    marksM: [4, 6, 9, 12, 14, 16, 20],
    lights: ['day', 'infrared'],
    promises: [{ grade: 'identify', distanceM: 14, light: 'infrared' }],
    distance: { toleranceM: 0.05 },
  })
  expect(walk.references.map(({ name, preset, reference }) => [name, preset, reference.kind])).toEqual([
    ['plate', 'plate-eu', 'rectangle'],
    ['board', null, 'rectangle'],
  ])
})

test('each promise names what it is told on where several things are carried', async () => {
  const dir = await temporaryWalk({})
  const tasks = ['read a plate at 5 m in day', 'know a face at 6 m in day', 'notice movement at 20 m in day']
  const asked = [...tasks, 'recognise at 9 m in day'].flatMap((promise) => ['--promise', promise])
  await runCommand('new', join(dir, 'two'), '--carry', '600x400mm', '--carry', 'plate-eu', ...asked)
  expect((await readWalk(join(dir, 'two'))).promises.map(({ reference }) => reference)).toEqual([
    'plate',
    'board',
    'board',
    'board',
  ])
  await runCommand('new', join(dir, 'one'), '--carry', 'plate-eu', ...asked)
  expect(await readFile(join(dir, 'one', 'walk.yaml'), 'utf8')).not.toMatch(/^ {2}- \{ grade.*reference/m)
})

test.each([
  ['recognize at 9m by day', 'day', 9],
  ['recognise at 9 m, day', 'day', 9],
  ['recognise at 9,5 m under infrared', 'infrared', 9.5],
  ['recognise at 9.5 m, by day', 'day', 9.5],
  ['recognise at 9 m at dark', 'dark', 9],
  ['recognise at 31 ft 6 1/2 in in day', 'day', 9.6139],
  ['recognise at 20 feet in day', 'day', 6.096],
])('%s: the light stands behind in, by, at, under or a comma', async (promise, light, distanceM) => {
  const dir = await temporaryWalk({})
  await runCommand('new', join(dir, 'w'), '--carry', '2m', '--promise', promise)
  const { promises } = await readWalk(join(dir, 'w'))
  expect(promises).toMatchObject([{ grade: 'recognise', distanceM, light }])
})

test('a field of view without the size of a still is told in the file and on the terminal', async () => {
  const dir = await temporaryWalk({})
  const { out } = await runCommand('new', dir, '--carry', '600x400mm', '--field-of-view', '100')
  expect(out).toContain('the field of view cannot be read without the size of a still')
  expect(await readFile(join(dir, 'walk.yaml'), 'utf8')).toContain(
    '# the field of view cannot be read without',
  )
  expect(out).toContain('such as stills/day/4m.jpg\nclick the corners')
})

test('a chart asks for no clicks, only to be printed and taped', async () => {
  const dir = await temporaryWalk({})
  const alone = await runCommand('new', join(dir, 'alone'), '--carry', 'chart A4')
  expect(alone.out).toContain('proofwalk chart --paper A4 --out chart-A4.pdf')
  expect(alone.out).not.toContain('click the corners')
  const both = await runCommand('new', join(dir, 'both'), '--carry', 'chart A4', '--carry', 'plate-eu')
  expect(both.out).toContain('proofwalk chart --paper A4 --out chart-A4.pdf')
  expect(both.out).toContain('click the corners of what else is carried')
})

test('what is carried in feet stays in feet', async () => {
  const dir = await temporaryWalk({})
  await runCommand('new', dir, '--feet', '--carry', '2 ft', '--carry', '24x16in')
  const text = await readFile(join(dir, 'walk.yaml'), 'utf8')
  expect(text).toContain('staff: { length: 2 ft, ')
  expect(text).toContain('board: { width: 24 in, height: 16 in, ')
  expect(text).toContain('tolerance: 2 in }')
  expect(text).toContain('board: { width: 24 in, height: 16 in, tolerance: 1/16 in }')
  expect(text).toMatch(/^units: imperial/m)
  expect((await readWalk(dir)).units).toBe('imperial')
})

test("what is promised at 50' and at 50ft is promised once", async () => {
  const dir = await temporaryWalk({})
  const promises = ["50'", '50ft', '50 feet'].flatMap((at) => ['--promise', `recognise at ${at} in day`])
  await runCommand('new', join(dir, 'w'), '--feet', '--carry', '6 ft', ...promises, '--marks', '20 ft')
  const { promises: made, marksM } = await readWalk(join(dir, 'w'))
  expect(made.map(({ distanceM }) => distanceM)).toEqual([15.24])
  expect(marksM).toEqual([6.096, 15.24])
})

test('the date is left to the stills where none is given', async () => {
  const dir = await temporaryWalk({})
  await runCommand('new', join(dir, 'open'), '--carry', '6 ft')
  expect((await readWalk(join(dir, 'open'))).date).toBeNull()
  await runCommand('new', join(dir, 'told'), '--carry', '6 ft', '--date', '2026-03-14')
  expect((await readWalk(join(dir, 'told'))).date).toBe('2026-03-14')
})

test('a plate alone is judged by pixels, and both the file and the terminal say why', async () => {
  const dir = await temporaryWalk({})
  const { out } = await runCommand('new', dir, '--carry', 'plate-uk')
  expect(out).toContain('judged by pixels alone: neither a plate nor a staff has a clean edge')
  expect(out).toContain('delete "judge: pixels"')
  expect(await readFile(join(dir, 'walk.yaml'), 'utf8')).toContain(
    '# neither a plate nor a staff has a clean edge',
  )
  expect((await readWalk(dir)).judge).toBe('pixels')
})

test('the size is read from a still as displayed, paces widen the tolerance, feet make the marks', async () => {
  const dir = await temporaryWalk({})
  const still = join(dir, 'export.jpg')
  await sharp({ create: { width: 64, height: 48, channels: 3, background: 'grey' } })
    .withMetadata({ orientation: 6 })
    .jpeg()
    .toFile(still)
  const args = ['--still', still, '--carry', "6'", '--measured-with', 'paces', '--feet', '--sensor', '1/2.8']
  expect((await runCommand('new', join(dir, 'w'), ...args)).err).toBe('')
  const walk = await readWalk(join(dir, 'w'))
  expect(walk.camera.image).toEqual({ width: 48, height: 64 })
  expect(await readFile(join(dir, 'w', 'walk.yaml'), 'utf8')).toContain('tolerance: 3.3 ft }')
  expect(walk.references[0]?.reference).toMatchObject({ kind: 'length', lengthM: 1.8288 })
  expect(walk.marksM[0]).toBe(3.6576)
  expect(walk.camera.sensor?.text).toBe('1/2.8')
})

test('awkward names come back from the file as they were typed', async () => {
  const dir = await temporaryWalk({})
  const names = [
    'yes',
    '007',
    'a: b # c',
    '- x',
    '[1, 2]',
    '"quoted"',
    "it's",
    'Łódź {пристань}',
    '*anchor',
    '@at',
  ]
  for (const [index, name] of names.entries()) {
    const walkDir = join(dir, String(index))
    const { err } = await runCommand('new', walkDir, '--carry', '2m', '--site', name, '--camera', name)
    expect(err).toBe('')
    const walk = await readWalk(walkDir)
    expect([walk.site, walk.camera.name]).toEqual([name, name])
  }
})

test.each([[], ['--feet']])(
  'every optional key that stands there as a comment is sound once its mark is taken off %j',
  async (...feet) => {
    const dir = await temporaryWalk({})
    await runCommand('new', dir, '--carry', 'plate-eu', '--camera', 'c', ...feet)
    const file = join(dir, 'walk.yaml')
    const text = await readFile(file, 'utf8')
    const keys =
      'date|people|issuer|conditions|notes|id|serial|settings|image|fieldOfView|focalLength|sensor|pixelPitch|mountHeight|tilt|board|staff|promises|stills|observations'
    const opened = text
      .replace(new RegExp(`^( *)# ((?:${keys}):)`, 'gm'), '$1$2')
      .replace(/^# {3}- \{/gm, '  - {')
    await writeFile(file, opened)
    const walk = await readWalk(dir)
    expect(walk.stills).toHaveLength(1)
    expect(walk.observations).toHaveLength(1)
    expect(walk.promises).toHaveLength(1)
    expect(walk.conditions).toHaveLength(1)
    expect(walk.references.map(({ name }) => name)).toEqual(['plate', 'board', 'staff'])
    expect(Object.values(walk.camera).filter((value) => value === null)).toEqual([])
  },
)

describe('what cannot be made is told and nothing is written', () => {
  test('a walk.yaml that is there is not overwritten', async () => {
    const dir = await temporaryWalk({ 'walk.yaml': 'mine' })
    const { err, status } = await runCommand('new', dir, '--carry', 'plate-eu')
    expect(status).toBe(2)
    expect(err).toBe(
      `proofwalk: ${join(dir, 'walk.yaml')}: exists and is not overwritten; edit it, or name another folder\n`,
    )
    expect(await readFile(join(dir, 'walk.yaml'), 'utf8')).toBe('mine')
    expect(await readdir(dir)).toEqual(['walk.yaml'])
  })

  test('all options at fault are told at once', async () => {
    const dir = await temporaryWalk({})
    const { err, status } = await runCommand(
      ...['new', join(dir, 'w'), '--carry', 'plate-ue', '--carry', 'chart A9', '--marks', '4, 6 m'],
      ...['--promise', 'recogniz at 4 m in day', '--promise', 'see well', '--field-of-view', 'wide'],
      ...['--focal-length', '4', '--sensor', 'big', '--grading', 'iec-62676-4-2052'],
    )
    expect(status).toBe(2)
    const lines = err.trimEnd().split('\n')
    expect(lines.map((line) => line.split(': ')[1])).toEqual([
      '--focal-length',
      '--grading',
      '--carry',
      '--carry',
      '--promise',
      '--promise',
      '--marks',
      '--sensor',
      '--field-of-view',
    ])
    expect(err).toContain('did you mean plate-eu?')
    expect(err).toContain('there is no chart for paper "A9"')
    expect(err).toContain('did you mean recognise?')
    expect(await readdir(dir)).toEqual([])
  })

  test('without a terminal and without --carry the mend is named', async () => {
    const dir = await temporaryWalk({})
    const { err, status } = await runCommand('new', join(dir, 'w'))
    expect(status).toBe(2)
    expect(err).toContain('give --carry plate-eu')
    expect(await readdir(dir)).toEqual([])
  })

  test.each([
    [['--date', '2026-02-30'], 'is not a date'],
    [['--date', '3/4/2026'], 'proofwalk: --date: "3/4/2026" is not a date; write it as YYYY-MM-DD'],
    [['--promise', 'read a plate at 5 m'], '"read a plate at 5 m" names no light; write'],
    [['--promise', 'read a plate in day'], 'names no distance; write'],
    [
      ['--promise', 'recognise at 9 m by nite'],
      '"nite" is not one of the lights; add it to lights, or use day or',
    ],
    [
      ['--lights', 'day, dusk', '--promise', 'recognise at 9 m, dsuk'],
      '--promise: "dsuk" is not one of the lights; did you mean dusk?',
    ],
    [
      ['--lights', 'day', '--promise', 'recognise at 9 m in dark'],
      '"dark" is not one of the lights; add it to lights',
    ],
    [['--promise', ' at 9 m by day'], 'names no task; write'],
    [['--carry', 'board'], '"board" is neither a preset nor a size; write its size, such as 600x400mm, or a'],
    [['--marks', '5-10 m'], '--marks: "5-10 m" is two lengths in one; write each by itself: 5 m, 10 m'],
    [
      ['--focal-length', '4 m'],
      '--focal-length: "4 m" is far too long to be meant; write for example 6.6 mm',
    ],
    [['--lights', 'day, ../out'], 'lights[1]'],
    [['--site', ' '], 'site'],
    [['--lights', 'day, Day'], 'is there twice'],
    [['--feet', '--metres'], 'cannot be used with'],
    [['--measured-with', 'string'], 'Allowed choices'],
  ])('%j', async (options, says) => {
    const dir = await temporaryWalk({})
    const { err, status } = await runCommand('new', join(dir, 'w'), '--carry', '2m', ...options)
    expect(status).toBe(2)
    expect(err).toContain(says)
    expect(await readdir(dir)).toEqual([])
  })

  test('a file where the folder should be, and a still that is none', async () => {
    const dir = await temporaryWalk({ file: 'x', 'still.jpg': 'no picture' })
    await mkdir(join(dir, 'w'))
    const inFile = await runCommand('new', join(dir, 'file'), '--carry', '2m')
    expect([inFile.status, inFile.err]).toEqual([
      2,
      `proofwalk: ${join(dir, 'file')}: is not a folder; name another\n`,
    ])
    const noStill = await runCommand(
      'new',
      join(dir, 'w'),
      '--carry',
      '2m',
      '--still',
      join(dir, 'still.jpg'),
    )
    expect(noStill.status).toBe(2)
    expect(noStill.err).toContain('still.jpg: --still: ')
    expect(await readdir(join(dir, 'w'))).toEqual([])
  })
})
