import { mkdir, mkdtemp, readdir, readFile, rename, rm, symlink, utimes, writeFile } from 'node:fs/promises'
import { execFileSync } from 'node:child_process'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest'
import { openEntryStore } from '../../src/files/entryStore.js'

let home: string
let dir: string
let said: string[]
beforeAll(async () => {
  home = await mkdtemp(join(tmpdir(), 'proofwalk-entries-'))
})
beforeEach(async () => {
  dir = join(await mkdtemp(join(home, 'one-')), 'cache/store')
  said = []
})
afterAll(() => rm(home, { recursive: true, force: true }))

const open = () => openEntryStore(dir, ({ message }) => said.push(message))

test('what was put is had again by the next who opens it, to the last bit', async () => {
  const first = await open()
  expect(first.isEmpty).toBe(true)
  expect(await first.get('one')).toBeUndefined()
  const value = { of: [0.1 + 0.2, -0, NaN, Infinity], none: undefined, text: 'é' }
  await first.put('one', value)
  const next = await open()
  expect(next.isEmpty).toBe(false)
  expect(await next.get('one')).toStrictEqual(value)
  expect(await next.get('two')).toBeUndefined()
  expect(said).toEqual([])
})

test('what is damaged, cut short, empty or another entry is as if it were not there, and is put anew', async () => {
  await (await open()).put('one', { value: 'a'.repeat(1000) })
  await (await open()).put('two', { value: 2 })
  const whole = await readFile(join(dir, 'one'))
  const flipped = Buffer.from(whole)
  flipped[500]! ^= 1
  for (const bytes of [flipped, whole.subarray(0, 400), Buffer.alloc(0), await readFile(join(dir, 'two'))]) {
    await writeFile(join(dir, 'one'), bytes)
    expect(await (await open()).get('one')).toBeUndefined()
  }
  await (await open()).put('one', { value: 1 })
  expect(await (await open()).get('one')).toEqual({ value: 1 })
})

test('a pipe, a folder and a link in the place of an entry are neither waited for nor followed', async () => {
  await (await open()).put('real', 1)
  execFileSync('mkfifo', [join(dir, 'pipe')])
  await mkdir(join(dir, 'folder'))
  await rename(join(dir, 'real'), join(dir, '../real'))
  await symlink('../real', join(dir, 'real'))
  const store = await open()
  for (const name of ['pipe', 'folder', 'real']) expect(await store.get(name), name).toBeUndefined()
})

test('where it is not a folder, or a link to one, nothing is kept or read there, which is told once', async () => {
  const elsewhere = await mkdtemp(join(home, 'elsewhere-'))
  await mkdir(join(dir, '..'))
  await symlink(elsewhere, dir)
  const store = await open()
  await store.put('one', 1)
  await store.put('two', 2)
  expect(await readdir(elsewhere)).toEqual([])
  expect(said).toEqual(['cannot be written: its folder is a file'])
  await rm(join(dir, '..'), { recursive: true })
  await writeFile(join(dir, '..'), 'a file')
  await (await open()).put('one', 1)
  expect(said).toHaveLength(2)
})

test('where writing fails nothing throws, it is told once, and what is there is still read', async () => {
  await (await open()).put('one', 1)
  const store = await open()
  // A folder in the entry's place cannot be written over.
  await mkdir(join(dir, 'two'))
  await store.put('two', 2)
  await store.put('three', 3)
  expect(said).toEqual(['cannot be written: a folder has this name'])
  expect(await store.get('one')).toBe(1)
})

test('it is held to its size, what was put longest ago goes first, and torn files go, whatever the clock', async () => {
  const store = await open()
  for (const [index, name] of ['a', 'b', 'c', 'd'].entries()) {
    await store.put(name, 'x'.repeat(1000))
    const at = new Date(Date.UTC(index === 0 ? 2090 : 2020, 0, 1 + index))
    await utimes(join(dir, name), at, at)
  }
  for (const [name, year] of [
    ['.a.1234.part', 2020],
    ['.b.1234.part', 2090],
  ] as const) {
    await writeFile(join(dir, name), 'torn')
    await utimes(join(dir, name), new Date(Date.UTC(year, 0)), new Date(Date.UTC(year, 0)))
  }
  await store.sweep(2500)
  expect((await readdir(dir)).sort()).toEqual(['a', 'd'])
})

test('what another process is just writing is left to it', async () => {
  const store = await open()
  await store.put('one', 1)
  await writeFile(join(dir, '.two.1234.part'), 'being written')
  await store.sweep(2500)
  expect((await readdir(dir)).sort()).toEqual(['.two.1234.part', 'one'])
})

test('two at once write whole entries', async () => {
  const value = (n: number) => Array(20_000).fill(n)
  const stores = await Promise.all([open(), open()])
  for (let round = 0; round < 5; round++) {
    await Promise.all(stores.map((store, index) => store.put('one', value(index))))
    const kept = await (await open()).get('one')
    expect([value(0), value(1)]).toContainEqual(kept)
  }
  expect(await readdir(dir)).toEqual(['one'])
})
