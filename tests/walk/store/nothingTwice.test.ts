import { cp, mkdtemp, readdir, readFile, rm, stat, utimes, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { afterAll, beforeEach, expect, test, vi } from 'vitest'
import { measureWalk } from '../../../src/walk/measure/measureWalk.js'
import { planMeasuring } from '../../../src/walk/measure/planMeasuring.js'
import * as stillTask from '../../../src/walk/measure/runStillTask.js'
import * as judging from '../../../src/walk/measure/judgeMeasured.js'
import { stillRunner } from '../../../src/walk/measure/stillRunner.js'
import { readWalk } from '../../../src/walk/read/readWalk.js'
import { resultsText } from '../../../src/walk/schemas/resultsText.js'
import { verifyFiles } from '../../../src/walk/site/verifyFiles.js'
import { openStillStore } from '../../../src/walk/store/stillStore.js'

const build = vi.hoisted(() => ({ decoder: 'one' }))
vi.mock('../../../src/still/loadSharp.js', async (original) => ({
  ...(await original<object>()),
  decoderVersions: () => build.decoder,
}))
vi.mock('../../../src/walk/measure/runStillTask.js', { spy: true })
vi.mock('../../../src/walk/measure/judgeMeasured.js', { spy: true })

const PATTERN = fileURLToPath(new URL('../../../fixtures/walks/one-angle-board', import.meta.url))
const home = mkdtemp(join(tmpdir(), 'proofwalk-twice-'))
afterAll(async () => rm(await home, { recursive: true, force: true }))

let dir: string
let all: number
let said: string[]
beforeEach(async () => {
  dir = await mkdtemp(join(await home, 'walk-'))
  await cp(PATTERN, dir, { recursive: true })
  all = (await planMeasuring(await readWalk(dir))).tasks.length
  said = []
  build.decoder = 'one'
})

const openStore = () => openStillStore(dir, ({ message }) => said.push(message))

/** Measures the walk with its store: the text of its results, how many stills were measured, and whether it was judged. */
async function measured() {
  vi.mocked(stillTask.runStillTask).mockClear()
  vi.mocked(judging.judgeMeasured).mockClear()
  const results = await measureWalk(await readWalk(dir), { workers: 1, store: await openStore() })
  return {
    text: resultsText(results),
    stills: vi.mocked(stillTask.runStillTask).mock.calls.length,
    judged: vi.mocked(judging.judgeMeasured).mock.calls.length,
  }
}

const entries = async () =>
  (await readdir(join(dir, '.proofwalk/store'))).filter((name) => name !== 'results')

test('an unchanged walk is neither measured nor judged again, and its results are the same bytes as without a store', async () => {
  const without = resultsText(await measureWalk(await readWalk(dir), { workers: 1 }))
  expect(all).toBeGreaterThan(2)
  expect(await measured()).toEqual({ text: without, stills: all, judged: 1 })
  expect(await measured()).toEqual({ text: without, stills: 0, judged: 0 })
  // And how each two of its stills lie against each other, looked for in two ways.
  expect(await entries()).toHaveLength(all + 2 * 3)
  expect(said).toEqual([])
})

test('what walk.yaml alone changes is judged again and not measured again', async () => {
  await measured()
  const file = join(dir, 'walk.yaml')
  await writeFile(file, `${await readFile(file, 'utf8')}\nnotes: seen once more\n`)
  const again = await measured()
  expect(again).toMatchObject({ stills: 0, judged: 1 })
  expect(again.text).toContain('seen once more')
})

test('a moved corner measures its still again, and no other', async () => {
  await measured()
  const file = join(dir, 'picks.json')
  const picks = JSON.parse(await readFile(file, 'utf8')) as {
    stills: Record<string, { corners: number[][] }>
  }
  Object.values(picks.stills)[0]!.corners[0]![0]! += 0.25
  await writeFile(file, JSON.stringify(picks))
  const again = await measured()
  expect(again).toMatchObject({ stills: 1, judged: 1 })
  expect(again.text).toBe(resultsText(await measureWalk(await readWalk(dir), { workers: 1 })))
})

test('a still replaced by one of the same size and time is seen', async () => {
  await measured()
  const [task] = (await planMeasuring(await readWalk(dir))).tasks
  const { atime, mtime } = await stat(task!.path)
  const bytes = await readFile(task!.path)
  // One bit of the picture, or of what comes with it: another file.
  bytes[bytes.length - 10]! ^= 1
  await writeFile(task!.path, bytes)
  await utimes(task!.path, atime, mtime)
  const again = await measured()
  expect(again.stills).toBe(1)
  expect(JSON.parse(again.text).failed).toMatchObject([{ file: task!.file, code: 'pick-stale' }])
})

test('a walk that was moved is had again', async () => {
  const { text } = await measured()
  await cp(dir, `${dir}-moved`, { recursive: true })
  dir = `${dir}-moved`
  expect(await measured()).toEqual({ text, stills: 0, judged: 0 })
})

test('another decoder, like another build, believes nothing; the first one then still does', async () => {
  const { text } = await measured()
  build.decoder = 'another'
  expect(await measured()).toEqual({ text, stills: all, judged: 1 })
  build.decoder = 'one'
  expect(await measured()).toMatchObject({ text, stills: 0 })
})

test('damaged entries are measured anew', async () => {
  const { text } = await measured()
  for (const name of await readdir(join(dir, '.proofwalk/store')))
    await writeFile(join(dir, '.proofwalk/store', name), 'damaged')
  expect(await measured()).toEqual({ text, stills: all, judged: 1 })
  expect(await measured()).toEqual({ text, stills: 0, judged: 0 })
})

test('a store that can keep nothing is said once, and the results are the same', async () => {
  await writeFile(join(dir, '.proofwalk'), 'in the way')
  const without = resultsText(await measureWalk(await readWalk(dir), { workers: 1 }))
  expect(await measured()).toEqual({ text: without, stills: all, judged: 1 })
  expect(said).toHaveLength(1)
})

test('a measuring that ends half way keeps what it measured', async () => {
  const store = await openStore()
  const runner = stillRunner(0, store)
  let begun = 0
  const torn = {
    ...runner,
    run: (task: Parameters<typeof runner.run>[0]) =>
      ++begun === all ? Promise.reject(new Error('ended')) : runner.run(task),
  }
  await expect(measureWalk(await readWalk(dir), { workers: 1, store, runner: torn })).rejects.toThrow('ended')
  await vi.waitFor(async () => expect(await entries()).toHaveLength(all - 1))
  expect((await measured()).stills).toBe(1)
})

test('two that measure at once give the same bytes, and leave a whole store', async () => {
  const once = async () =>
    resultsText(await measureWalk(await readWalk(dir), { workers: 1, store: await openStore() }))
  const [one, other] = await Promise.all([once(), once()])
  expect(one).toBe(other)
  expect(await measured()).toEqual({ text: one, stills: 0, judged: 0 })
})

test('what is not true in the store is found by verify --deep, which never looks there', async () => {
  const { tasks } = await planMeasuring(await readWalk(dir))
  const { text } = await measured()
  const store = await openStore()
  const kept = (await store.find(tasks[0]!))!
  if (!kept.ok) throw new Error(kept.code)
  const wider = { ...kept.measurement, width: kept.measurement.width + 2 }
  await store.keep(tasks[0]!, { ...kept, measurement: wider })
  await rm(join(dir, '.proofwalk/store/results'))
  const believed = await measured()
  expect(believed.stills).toBe(0)
  expect(believed.text).not.toBe(text)
  await writeFile(join(dir, 'results.json'), believed.text)
  const { checks } = await verifyFiles(dir, { workers: 1 })
  expect(checks.filter(({ matches }) => matches === false).length).toBeGreaterThan(0)
  await writeFile(join(dir, 'results.json'), text)
  const right = await verifyFiles(dir, { workers: 1 })
  expect(right.checks.filter(({ matches }) => matches === false)).toEqual([])
})
