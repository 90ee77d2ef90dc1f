import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, it } from 'vitest'
import { changeFile } from '../../src/files/changeFile.js'
import { seededRandom } from '../../src/math/random.js'

let dir = ''
beforeEach(async () => {
  dir = await mkdtemp(join(tmpdir(), 'proofwalk-raced-'))
})
afterEach(() => rm(dir, { recursive: true }))

it('loses no edit that an editor writes in place while a change is saved: 0 of 60', async () => {
  const file = join(dir, 'n.txt')
  const random = seededRandom(4)
  let lost = 0
  for (let i = 0; i < 60; i++) {
    await writeFile(file, 'a\n')
    const saving = changeFile(dir, 'n.txt', (text) => Promise.resolve(`${text ?? ''}ours ${i}\n`))
    await new Promise((resolve) => setTimeout(resolve, 12 * random.uniform()))
    await writeFile(file, `${await readFile(file, 'utf8')}theirs ${i}\n`)
    await saving
    const now = await readFile(file, 'utf8')
    if (!now.includes(`theirs ${i}`)) lost += 1
  }
  expect(lost).toBe(0)
})
