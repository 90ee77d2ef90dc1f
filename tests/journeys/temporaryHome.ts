import { cp, mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll } from 'vitest'
import { makeSmallWalk } from './smallWalk.js'

/** A folder for the walks of one test file, gone afterwards. */
export interface TemporaryHome {
  /** Its path with further steps. */
  path(...steps: string[]): string
  /** A fresh copy of the small walk under a name; returns its path. */
  freshWalk(name: string): Promise<string>
}

/** Makes a folder with the small walk before the tests of a file, to be copied by each. */
export function temporaryHome(): TemporaryHome {
  let home = ''
  beforeAll(async () => {
    home = await mkdtemp(join(tmpdir(), 'proofwalk-journey-'))
    await makeSmallWalk(join(home, 'pattern'))
  }, 60_000)
  afterAll(() => rm(home, { recursive: true, force: true }))
  return {
    path: (...steps) => join(home, ...steps),
    async freshWalk(name) {
      const copy = join(home, name)
      await rm(copy, { recursive: true, force: true })
      await cp(join(home, 'pattern'), copy, { recursive: true })
      return copy
    },
  }
}
