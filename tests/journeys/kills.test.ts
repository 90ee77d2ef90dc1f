import { readFile, readdir, utimes } from 'node:fs/promises'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { runProofwalk, runThroughShell } from './runProofwalk.js'
import { put, smallWalkYaml } from './smallWalk.js'
import { temporaryHome } from './temporaryHome.js'

const home = temporaryHome()

/** How often it is killed in all; `KILLS=200 npx vitest run tests/journeys/kills.test.ts` does it more often. */
const KILLS = Number(process.env['KILLS'] ?? 20)

/** The walk in two versions, of which each gives other results and another sheet. */
const VERSIONS = [smallWalkYaml(), smallWalkYaml('notes: measured once more\n')]

describe.each([
  { command: 'measure', file: 'results.json' },
  { command: 'sheet', file: 'sheet.pdf' },
])('a kill of $command', ({ command, file }) => {
  test(
    `at any moment leaves a whole ${file}, the last one or the new one`,
    async () => {
      const dir = await home.freshWalk(`killed-${command}`)
      const whole: string[] = []
      let lastsMs = 0
      for (const version of VERSIONS) {
        await put(dir, 'walk.yaml', version)
        const from = performance.now()
        await runProofwalk([command, dir])
        lastsMs = performance.now() - from
        whole.push(await readFile(join(dir, file), 'latin1'))
      }
      expect(whole[0]).not.toBe(whole[1])
      // Half of them for each command: from its first moment to some time after it should have ended.
      for (let index = 0; index < KILLS / 2; index++) {
        const share = 0.2 + index / (KILLS / 2)
        await put(dir, 'walk.yaml', VERSIONS[index % 2]!)
        await runProofwalk([command, dir], { killAfterMs: share * lastsMs })
        expect(whole.includes(await readFile(join(dir, file), 'latin1')), `${share} of the run`).toBe(true)
      }
      // What is left beside it is hidden, and swept once it is old.
      for (const name of await readdir(dir)) {
        if (!name.endsWith('.part')) continue
        expect(name).toMatch(/^\./)
        await utimes(join(dir, name), 0, 0)
      }
      const last = await runProofwalk([command, dir])
      expect(last.status).toBe(0)
      const wanted = whole[(KILLS / 2 - 1) % 2]
      expect((await readFile(join(dir, file), 'latin1')) === wanted, 'the version it has').toBe(true)
      expect((await readdir(dir)).filter((name) => name.endsWith('.part'))).toEqual([])
    },
    60_000 + 12_000 * KILLS,
  )

  test(`halfway through its writing leaves the last whole ${file}`, async () => {
    const dir = await home.freshWalk(`torn-${command}`)
    await runProofwalk([command, dir])
    const whole = await readFile(join(dir, file), 'latin1')
    await put(dir, 'walk.yaml', VERSIONS[1]!)
    if (command === 'sheet') await runProofwalk(['measure', dir]) // else it would end at results.json already
    // no file may grow beyond 2 KB: the system ends the process in the midst of writing its output
    const run = await runThroughShell('ulimit -f 2; exec "$@"', [command, dir])
    expect(run.status).not.toBe(0)
    expect((await readFile(join(dir, file), 'latin1')) === whole, 'the last one').toBe(true)
    const torn = (await readdir(dir)).filter((name) => name.endsWith('.part'))
    expect(torn.every((name) => name.startsWith('.'))).toBe(true)
  })
})
