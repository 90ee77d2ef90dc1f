import { mkdir, readdir, readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { writeWhole } from '../../src/files/writeWhole.js'
import { temporaryWalk } from '../walk/temporaryWalk.js'

test('a file is written, and written over, and nothing is left beside it', async () => {
  const dir = await temporaryWalk({})
  const file = join(dir, 'results.json')
  await writeWhole(file, 'one')
  await writeWhole(file, new TextEncoder().encode('two'))
  expect(await readFile(file, 'utf8')).toBe('two')
  expect(await readdir(dir)).toEqual(['results.json'])
})

test('a failed write leaves the old file as it was and nothing beside it', async () => {
  const dir = await temporaryWalk({})
  await mkdir(join(dir, 'results.json'))
  await expect(writeWhole(join(dir, 'results.json'), 'new')).rejects.toMatchObject({
    code: 'cannot-write',
    exitStatus: 2,
  })
  expect(await readdir(dir)).toEqual(['results.json'])
})

test('a folder that is not there is told with its mend', async () => {
  const dir = await temporaryWalk({})
  await expect(writeWhole(join(dir, 'gone', 'results.json'), 'new')).rejects.toMatchObject({
    code: 'cannot-write',
    message: 'cannot be written: its folder is not there',
    place: { mend: 'make the folder first' },
  })
})

test('a reader beside many writers never sees a part', async () => {
  const dir = await temporaryWalk({})
  const file = join(dir, 'results.json')
  const texts = ['a', 'b'].map((letter) => letter.repeat(2_000_000))
  await writeWhole(file, texts[0]!)
  let done = false
  const writing = Promise.all(texts.flatMap((text) => [1, 2, 3].map(() => writeWhole(file, text)))).then(
    () => {
      done = true
    },
  )
  let reads = 0
  while (!done || reads === 0) {
    const seen = await readFile(file, 'utf8')
    expect(texts.includes(seen)).toBe(true)
    reads++
  }
  await writing
  expect(await readdir(dir)).toEqual(['results.json'])
})
