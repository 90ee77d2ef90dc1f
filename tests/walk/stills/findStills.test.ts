import { execFile } from 'node:child_process'
import { chmod, mkdir, symlink, writeFile } from 'node:fs/promises'
import { createServer } from 'node:net'
import { join } from 'node:path'
import { promisify } from 'node:util'
import { expect, onTestFinished, test } from 'vitest'
import { findStills } from '../../../src/walk/stills/findStills.js'
import { readWalk } from '../../../src/walk/read/readWalk.js'
import { temporaryWalk } from '../temporaryWalk.js'
import { SHORT_WALK } from '../walkText.js'
import { dropRootRights } from '../../rootRights.js'

async function found(files: readonly string[], more = '', prepare?: (dir: string) => Promise<void>) {
  const stills = Object.fromEntries(files.map((file) => [file, 'no picture: nothing here is opened']))
  const dir = await temporaryWalk({ ...stills, 'walk.yaml': SHORT_WALK + more })
  await prepare?.(dir)
  return findStills(await readWalk(dir))
}

const reasons = (result: Awaited<ReturnType<typeof found>>) =>
  Object.fromEntries(result.unassigned.map(({ file, message }) => [file, message]))

test('stills are found by light and distance, sorted by the bytes of their paths', async () => {
  const result = await found([
    'stills/infrared/45ft-2.png',
    'stills/day/9m.jpg',
    'stills/day/12.5 m b.webp',
    'stills/ir/6m.AVIF',
    'stills/Day/4m.tif',
    'stills/day/Ö 3m.jpg',
  ])
  expect(result.assigned.map(({ file, lightId, distanceM }) => [file, lightId, distanceM])).toEqual([
    ['stills/Day/4m.tif', 'day', 4],
    ['stills/day/12.5 m b.webp', 'day', 12.5],
    ['stills/day/9m.jpg', 'day', 9],
    ['stills/infrared/45ft-2.png', 'infrared', 13.716],
    ['stills/ir/6m.AVIF', 'infrared', 6],
  ])
  expect(reasons(result)['stills/day/Ö 3m.jpg']).toContain('begin its name with the distance')
  expect(
    result.assigned.every(({ referenceName, problems }) => referenceName === null && problems.length === 0),
  ).toBe(true)
})

test('every other file is told with its reason, hidden ones are passed over', async () => {
  const result = await found([
    'stills/16m.jpg',
    'stills/day/16.jpg',
    'stills/day/clip.mp4',
    'stills/day/16m.heic',
    'stills/day/notes.txt',
    'stills/day/more/16m.jpg',
    'stills/dusk/16m.jpg',
    'stills/infrard/16m.jpg',
    'stills/.DS_Store',
    'stills/day/.hidden.jpg',
    'stills/day/Thumbs.db',
    'stills/.cache/16m.jpg',
    'elsewhere/16m.jpg',
  ])
  expect(result.assigned).toEqual([])
  expect(reasons(result)).toEqual({
    'stills/16m.jpg': expect.stringContaining('move it to stills/day/') as string,
    'stills/day/16.jpg': expect.stringContaining('rename it to 16m.jpg or 16ft.jpg') as string,
    'stills/day/clip.mp4': expect.stringContaining('ffmpeg') as string,
    'stills/day/16m.heic': expect.stringContaining('export it as JPEG') as string,
    'stills/day/notes.txt': expect.stringContaining('not a picture') as string,
    'stills/day/more/16m.jpg': 'is in too deep a folder; move it up into stills/day/',
    'stills/dusk/16m.jpg':
      "its folder says dusk, the walk's lights are day, infrared; rename the folder, or add dusk to lights in walk.yaml",
    'stills/infrard/16m.jpg':
      "its folder says infrard, the walk's lights are day, infrared; did you mean infrared? rename the folder, or add infrard to lights in walk.yaml",
  })
})

test("a light's folder that is misspelt is told with the usual words for lights, and one light is one", async () => {
  const files = ['stills/nigth/4m.jpg', 'stills/drak/4m.jpg', 'stills/dark/4m.jpg']
  const dir = await temporaryWalk({
    ...Object.fromEntries(files.map((file) => [file, 'x'])),
    'walk.yaml': SHORT_WALK.replace('[day, infrared]', '[day]'),
  })
  expect(reasons(await findStills(await readWalk(dir)))).toEqual({
    'stills/nigth/4m.jpg':
      "its folder says nigth, the walk's light is day; rename the folder, or add nigth to lights in walk.yaml",
    'stills/drak/4m.jpg':
      "its folder says drak, the walk's light is day; did you mean dark? rename the folder and add dark to lights in walk.yaml",
    'stills/dark/4m.jpg':
      "its folder says dark, the walk's light is day; rename the folder, or add dark to lights in walk.yaml",
  })
})

test('pictures beside walk.yaml are told with where they belong; the logo, papers and folders are not, nor what walk.yaml names', async () => {
  const result = await found(
    ['9m.jpg', 'a.PNG', 'named.png', 'logo.png', 'sheet.pdf', 'plan.pdf', '.hidden.jpg', 'old.jpg/9m.jpg'],
    'issuer: { logo: ./logo.png }\nstills: [{ file: named.png, mark: 4 m, light: day }]\n',
  )
  expect(result.assigned.map(({ file, problems }) => ({ file, problems }))).toEqual([
    { file: 'named.png', problems: [] },
  ])
  const told =
    'is beside walk.yaml; move it into stills/day/ or stills/infrared/, and name it by its distance'
  expect(reasons(result)).toEqual({ '9m.jpg': told, 'a.PNG': told })
})

test('a walk without stills has none', async () => {
  expect(await found([])).toEqual({ assigned: [], unassigned: [] })
})

test('walk.yaml names stills whose names say nothing, and its word wins over a name', async () => {
  const result = await found(
    ['stills/export-0001.jpg', 'exports/a.png', 'stills/day/16m.jpg', 'stills/day/4m.jpg'],
    `stills:
  - { file: stills/export-0001.jpg, mark: 16 m, light: infrared, reference: plate }
  - { file: ./exports/a.png, mark: 45 ft, light: day }
  - { file: stills/day/16m.jpg, mark: 20 m, light: day }
  - { file: stills/day/4m.jpg, mark: 4 m, light: dusk }
  - { file: stills/gone.jpg, mark: 4 m, light: day }
`,
  )
  expect(result.assigned).toEqual([
    { file: 'exports/a.png', lightId: 'day', distanceM: 13.716, referenceName: null, problems: [] },
    {
      file: 'stills/day/16m.jpg',
      lightId: 'day',
      distanceM: 20,
      referenceName: null,
      problems: [{ code: 'name-disagrees', message: expect.stringContaining('16 m in day') as string }],
    },
    {
      file: 'stills/export-0001.jpg',
      lightId: 'infrared',
      distanceM: 16,
      referenceName: 'plate',
      problems: [],
    },
  ])
  expect(reasons(result)).toEqual({
    'stills/day/4m.jpg':
      "its entry in walk.yaml says dusk, the walk's lights are day, infrared; change the entry, or add dusk to lights in walk.yaml",
    'stills/gone.jpg': 'is named in walk.yaml and is not there; put it there or delete its entry',
  })
})

test('distances within 0.01 m are one mark, the planned one where there is one', async () => {
  const planned = await found(['stills/day/13.72m.jpg', 'stills/day/45ft-b.jpg'], 'marks: [45 ft]\n')
  expect(planned.assigned.map(({ distanceM }) => distanceM)).toEqual([13.716, 13.716])
  const free = await found(['stills/day/8.01m.jpg', 'stills/day/8m.jpg', 'stills/infrared/8.02m.jpg'])
  expect(free.assigned.map(({ distanceM }) => distanceM)).toEqual([8, 8, 8.02])
})

test('links out of the walk, links to nothing, folders, pipes and sockets are told and never opened', async () => {
  const outside = await temporaryWalk({ '16m.jpg': 'outside' })
  const result = await found(['stills/day/9m.jpg'], '', async (dir) => {
    const day = join(dir, 'stills/day')
    await symlink(join(outside, '16m.jpg'), join(day, '16m.jpg'))
    await symlink('9m.jpg', join(day, '10m.jpg'))
    await symlink('nothing.jpg', join(day, '11m.jpg'))
    await symlink('12m.jpg', join(day, '12m.jpg'))
    await symlink(outside, join(dir, 'stills/dark'))
    await promisify(execFile)('mkfifo', [join(day, '13m.jpg')])
    await mkdir(join(day, '15m.jpg'))
    const server = createServer().listen(join(day, '14m.jpg'))
    await new Promise((resolve) => server.once('listening', resolve))
    onTestFinished(() => void server.close())
  })
  expect(result.assigned.map(({ file }) => file)).toEqual(['stills/day/10m.jpg', 'stills/day/9m.jpg'])
  expect(reasons(result)).toEqual({
    'stills/dark': "is a link out of the walk's folder; copy the file itself there",
    'stills/day/11m.jpg': expect.stringContaining('is a link that leads nowhere') as string,
    'stills/day/12m.jpg': expect.stringContaining('round in a circle') as string,
    'stills/day/13m.jpg': expect.stringContaining('is a pipe, socket or device') as string,
    'stills/day/14m.jpg': expect.stringContaining('is a pipe, socket or device') as string,
    'stills/day/16m.jpg': "is a link out of the walk's folder; copy the file itself there",
  })
})

test('stills that are no folder are told', async () => {
  const dir = await temporaryWalk({ 'walk.yaml': SHORT_WALK, stills: 'a file' })
  const result = await findStills(await readWalk(dir))
  expect(reasons(result)).toEqual({ stills: expect.stringContaining('not a picture') as string })
})

test('what may not be read is told', async () => {
  const result = await found(['stills/day/9m.jpg', 'stills/dark/9m.jpg'], '', async (dir) => {
    await chmod(join(dir, 'stills/day/9m.jpg'), 0)
    await chmod(join(dir, 'stills/dark'), 0)
    onTestFinished(() => chmod(join(dir, 'stills/dark'), 0o700))
    await chmod(dir, 0o755)
    onTestFinished(dropRootRights())
  })
  expect(reasons(result)).toEqual({
    'stills/dark': 'is a folder that cannot be read; allow reading it',
    // The right to a file is asked of the real user, whom a test cannot change: the journey of bad stills tells it for root too.
    ...(process.getuid?.() === 0 ? {} : { 'stills/day/9m.jpg': 'cannot be read; allow reading it' }),
  })
})

test('a name that is not UTF-8 is told and stops nothing', async () => {
  const result = await found(['stills/day/9m.jpg'], '', async (dir) => {
    const day = Buffer.from(join(dir, 'stills/day/'))
    await writeFile(Buffer.concat([day, Buffer.from([0x38, 0x6d, 0xff]), Buffer.from('.jpg')]), 'x')
  })
  expect(result.assigned.map(({ file }) => file)).toEqual(['stills/day/9m.jpg'])
  expect(Object.values(reasons(result))).toEqual([expect.stringContaining('not UTF-8')])
})

test('a name with line breaks and control characters is told in one plain line', async () => {
  const { unassigned } = await found(['stills/day/clip\n\u001b[31m.mp4'])
  expect(unassigned[0]?.message).toContain('ffmpeg -i "clip \\u001b[31m.mp4"')
})
