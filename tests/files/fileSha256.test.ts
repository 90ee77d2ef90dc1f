import { createHash } from 'node:crypto'
import { mkdtemp, rm, symlink, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { fileSha256 } from '../../src/files/fileSha256.js'

let dir: string
beforeAll(async () => {
  dir = await mkdtemp(join(tmpdir(), 'proofwalk-hash-'))
})
afterAll(async () => {
  await rm(dir, { recursive: true, force: true })
})

describe('the hash of a file', () => {
  it('is the published one of "abc" (FIPS 180-2, appendix B.1)', async () => {
    const file = join(dir, 'abc')
    await writeFile(file, 'abc')
    expect(await fileSha256(file)).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad')
  })

  it('is the same for a file of many pieces', async () => {
    const file = join(dir, 'large')
    const bytes = Buffer.alloc((32 << 20) + 12_345, 'proofwalk')
    await writeFile(file, bytes)
    expect(await fileSha256(file)).toBe(createHash('sha256').update(bytes).digest('hex'))
  })

  it('is none where there is no plain file', async () => {
    await symlink(join(dir, 'abc'), join(dir, 'link'))
    expect(await fileSha256(join(dir, 'nothing'))).toBeNull()
    expect(await fileSha256(dir)).toBeNull()
    expect(await fileSha256(join(dir, 'link'))).toBeNull()
  })
})
