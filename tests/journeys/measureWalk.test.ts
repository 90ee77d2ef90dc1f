import { readFile, rm, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { type WalkResults, resultsSchema } from '../../src/walk/schemas/resultsSchema.js'
import { runCommand } from '../cli/recordingTerminal.js'
import { expectNear } from '../nearly.js'
import { runProofwalk } from './runProofwalk.js'
import { SMALL_WALK_PX_PER_RAD, boardCorners, boardStill, put } from './smallWalk.js'
import { temporaryHome } from './temporaryHome.js'

const home = temporaryHome()

async function resultsIn(folder: string): Promise<WalkResults> {
  return resultsSchema.parse(JSON.parse(await readFile(join(folder, 'results.json'), 'utf8')))
}

test('measure prints the table, writes results.json that its own schema takes, and ends with 0 where the promise is met', async () => {
  const folder = await home.freshWalk('measured')
  const run = await runCommand('measure', folder)
  expect(run.err).toBe('')
  expect(run.status).toBe(0)
  expect(run.out).toContain('day, board')
  expect(run.out).toMatch(/Observe +9 m +day +every +met/)
  expect(run.out.trimEnd().split('\n').at(-1)).toBe(`Next: proofwalk sheet ${folder}`)
  const results = await resultsIn(folder)
  expect(results.stills).toHaveLength(3)
  for (const still of results.stills) {
    const truth = SMALL_WALK_PX_PER_RAD / still.distance!
    expect(still.density.low, still.file).toBeLessThan(truth)
    expect(still.density.high, still.file).toBeGreaterThan(truth)
  }
})

test('measure --json prints the same document as it writes, and nothing else', async () => {
  const folder = await home.freshWalk('json')
  const run = await runCommand('measure', folder, '--json')
  expect(run.out).toBe(await readFile(join(folder, 'results.json'), 'utf8'))
  expect(run.err).toBe('')
})

test('another number of threads, another time zone and another folder give the same bytes of results and sheet', async () => {
  const one = await home.freshWalk('bytes-one')
  const two = await home.freshWalk('bytes-two/deeper')
  for (const [folder, workers, zone] of [
    [one, '1', 'Pacific/Auckland'],
    [two, '2', 'America/Anchorage'],
  ] as const) {
    const env = { TZ: zone, LANG: zone.startsWith('P') ? 'de_DE.UTF-8' : 'C' }
    expect((await runProofwalk(['measure', folder, '--workers', workers], { env })).status).toBe(0)
    expect((await runProofwalk(['sheet', folder], { env })).status).toBe(0)
  }
  expect(await readFile(join(one, 'results.json'))).toEqual(await readFile(join(two, 'results.json')))
  expect(await readFile(join(one, 'sheet.pdf'))).toEqual(await readFile(join(two, 'sheet.pdf')))
})

test('with a store and without, on any number of threads, whether judged again or not, the results are the same bytes', async () => {
  const folder = await home.freshWalk('stores')
  const kept = join(folder, '.proofwalk')
  const texts: string[] = []
  const measure = async (...workers: string[]): Promise<void> => {
    expect((await runProofwalk(['measure', folder, ...workers])).status).toBe(0)
    texts.push(await readFile(join(folder, 'results.json'), 'utf8'))
  }
  for (const workers of [[], ['--workers', '3']]) {
    await rm(kept, { recursive: true, force: true })
    await measure(...workers)
  }
  for (const workers of ['1', '2']) {
    await rm(join(kept, 'store/results'))
    await measure('--workers', workers)
    await measure('--workers', workers)
  }
  await rm(kept, { recursive: true })
  await writeFile(kept, 'in the way of a store')
  await measure('--workers', '1')
  await measure('--workers', '2')
  expect(texts).toHaveLength(8)
  expect(new Set(texts).size).toBe(1)
})

test('measures on as many threads as asked', async () => {
  const folder = await home.freshWalk('threads')
  const tellThreads = "process.on('worker', ({ threadId }) => process.stderr.write(`thread ${threadId}\\n`))"
  const env = { NODE_OPTIONS: `--import=data:text/javascript,${encodeURIComponent(tellThreads)}` }
  const two = await runProofwalk(['measure', folder, '--workers', '2', '--no-scene'], { env })
  expect(two.err).toBe('thread 1\nthread 2\n')
  const one = await runProofwalk(['measure', folder, '--workers', '1', '--no-scene'], { env })
  expect(one.err).toBe('')
  const scene = await runProofwalk(['measure', folder, '--workers', '1'], { env })
  expect(scene.err, 'one to hold the stills against each other').toBe('thread 1\n')
})

test('a promise that is not met ends with 1, and the sheet that says so with 0', async () => {
  const folder = await home.freshWalk('not-met')
  const yaml = await readFile(join(folder, 'walk.yaml'), 'utf8')
  await put(folder, 'walk.yaml', yaml.replace('grade: observe, at: 9 m', 'grade: identify, at: 9 m'))
  expect((await runCommand('measure', folder)).status).toBe(1)
  expect((await resultsIn(folder)).promises.map(({ verdict }) => verdict)).toEqual(['not met'])
  expect((await runCommand('sheet', folder)).status).toBe(0)
})

test('the sheet measures first where results are missing or stale, and says so; otherwise it does not measure', async () => {
  const folder = await home.freshWalk('stale')
  const first = await runCommand('sheet', folder)
  expect(first.err).toContain('measuring first: there are no results yet')
  const second = await runCommand('sheet', folder)
  expect(second.err).toBe('')
  await put(folder, 'walk.yaml', `${await readFile(join(folder, 'walk.yaml'), 'utf8')}\nnotes: later\n`)
  const third = await runCommand('sheet', folder)
  expect(third.err).toContain('measuring first: walk.yaml has changed since')
  await put(folder, 'stills/day/12m.jpg', await boardStill(12, 'jpeg', 12))
  const fourth = await runCommand('sheet', folder)
  expect(fourth.err).toContain('measuring first: stills/day/12m.jpg has changed since')
})

test('one still with no walk gives the entry it would have in the walk', async () => {
  const folder = await home.freshWalk('single')
  const corners = boardCorners(6)
    .map((corner) => corner.join(','))
    .join(' ')
  const args = [
    'measure',
    join(folder, 'stills/day/6m.jpg'),
    '--reference',
    '600x400mm',
    '--corners',
    corners,
  ]
  const run = await runCommand(...args, '--distance', '6 m', '--json')
  expect(run.err).toBe('')
  const entry = JSON.parse(run.out) as WalkResults['stills'][number]
  await runCommand('measure', folder)
  const inWalk = (await resultsIn(folder)).stills.find(({ distance }) => distance === 6)!
  expect(entry.light).toBeNull()
  expectNear(entry.density.onTarget, inWalk.density.onTarget, { rel: 1e-9 }, 'the same still and corners')
  expect(entry.sharpness).toEqual(inWalk.sharpness)
  expect(entry.gradeByPixels).toBe(inWalk.gradeByPixels)
  const table = await runCommand(...args)
  expect(table.status).toBe(0)
  expect(table.out).toContain('grade by pixels')
})
