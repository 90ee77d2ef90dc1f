import { spawnSync } from 'node:child_process'
import { readdir, utimes, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, it, onTestFinished, vi } from 'vitest'
import { changeFile } from '../../src/files/changeFile.js'
import { lockFolder } from '../../src/files/lockFolder.js'
import { temporaryWalk } from '../walk/temporaryWalk.js'

/** The locks of this test alone: other tests lock folders of their own. */
async function ownLocks(): Promise<() => Promise<string[]>> {
  const own = await temporaryWalk({})
  vi.stubEnv('TMPDIR', own)
  onTestFinished(() => void vi.unstubAllEnvs())
  return () => readdir(own)
}

describe('locking a folder while it is changed', () => {
  it('lets one change after the other, and leaves no lock and nothing in the folder', async () => {
    const dir = await temporaryWalk({ 'n.txt': '0' })
    const locks = await ownLocks()
    let inside = 0
    await Promise.all(
      Array.from({ length: 8 }, () =>
        lockFolder(dir, async () => {
          expect(++inside).toBe(1)
          await new Promise((resolve) => setTimeout(resolve, 5))
          inside--
        }),
      ),
    )
    await expect(lockFolder(dir, () => Promise.reject(new Error('no')))).rejects.toThrow('no')
    expect(await locks()).toEqual([])
    expect(await readdir(dir)).toEqual(['n.txt'])
  })

  it('tells a folder that is gone, as with a stick pulled out, and a place for locks that is', async () => {
    const dir = await temporaryWalk({ 'n.txt': '0' })
    const change = vi.fn(() => Promise.resolve())
    const gone = join(dir, 'gone')
    await expect(lockFolder(gone, change)).rejects.toMatchObject({
      code: 'cannot-write',
      message: 'is no longer there, and nothing was written',
      exitStatus: 2,
      place: { file: gone },
    })
    vi.stubEnv('TMPDIR', gone)
    onTestFinished(() => void vi.unstubAllEnvs())
    await expect(lockFolder(dir, change)).rejects.toMatchObject({
      code: 'cannot-write',
      message: 'cannot be written: its folder is not there',
    })
    expect(change).not.toHaveBeenCalled()
  })

  it('takes over the lock of a process that is gone', async () => {
    const dir = await temporaryWalk({ 'n.txt': '0' })
    const locks = await ownLocks()
    let name = ''
    await lockFolder(dir, async () => {
      name = (await locks())[0]!
    })
    const gone = spawnSync(process.execPath, ['-e', '0'])
    const longAgo = new Date(Date.now() - 60_000)
    for (const [text, time] of [
      [`${gone.pid} left behind`, new Date()],
      ['', longAgo],
      [`${process.pid} of a number used again`, longAgo],
    ] as const) {
      const file = join(tmpdir(), name)
      await writeFile(file, text)
      await utimes(file, time, time)
      let ran = false
      await lockFolder(dir, () => Promise.resolve(void (ran = true)))
      expect(ran).toBe(true)
      expect(await locks()).toEqual([])
    }
  })
})

describe('changing a file', () => {
  it('changes it anew where somebody who knows no lock wrote it in between', async () => {
    const dir = await temporaryWalk({ 'n.txt': 'one' })
    const seen: (string | null)[] = []
    await changeFile(dir, 'n.txt', async (text) => {
      seen.push(text)
      if (seen.length === 1) await writeFile(join(dir, 'n.txt'), 'one, two')
      return `${text ?? ''}, three`
    })
    expect(seen).toEqual(['one', 'one, two'])
    await changeFile(dir, 'n.txt', (text) => {
      expect(text).toBe('one, two, three')
      return Promise.resolve(null)
    })
  })

  it('gives up where the file never rests, and leaves it as it is', async () => {
    const dir = await temporaryWalk({ 'n.txt': '0' })
    let turn = 0
    const busy = changeFile(dir, 'n.txt', async () => {
      await writeFile(join(dir, 'n.txt'), String(++turn))
      return 'mine'
    })
    await expect(busy).rejects.toMatchObject({ code: 'walk-busy' })
    await changeFile(dir, 'n.txt', (text) => {
      expect(text).toBe(String(turn))
      return Promise.resolve(null)
    })
  })
})
