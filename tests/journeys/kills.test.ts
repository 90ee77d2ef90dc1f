import { readFile, readdir } from 'node:fs/promises'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { runProofwalk, runThroughShell } from './runProofwalk.js'
import { put, smallWalkYaml } from './smallWalk.js'
import { temporaryHome } from './temporaryHome.js'

const home = temporaryHome()

/** The walk in two versions, of which each gives other results and another sheet. */
const VERSIONS = [smallWalkYaml(), smallWalkYaml('notes: measured once more\n')]

describe.each([
  { command: 'measure', file: 'results.json' },
  { command: 'sheet', file: 'sheet.pdf' },
])('a kill of $command', ({ command, file }) => {
  test(`at any moment leaves a whole ${file}, the last one or the new one`, async () => {
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
    for (const [index, share] of [0.4, 0.7, 0.85, 0.95, 1].entries()) {
      await put(dir, 'walk.yaml', VERSIONS[index % 2]!)
      await runProofwalk([command, dir], { killAfterMs: share * lastsMs })
      expect(whole.includes(await readFile(join(dir, file), 'latin1')), `${share} of the run`).toBe(true)
    }
    const last = await runProofwalk([command, dir])
    expect(last.status).toBe(0)
    expect((await readFile(join(dir, file), 'latin1')) === whole[0], 'the first version again').toBe(true)
  }, 300_000)

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
