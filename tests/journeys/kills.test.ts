import { readFile, readdir, utimes } from 'node:fs/promises'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import type { Saved, StillView, WalkView } from '../../src/page/api.js'
import { readPicks } from '../../src/walk/read/readPicks.js'
import { startPick } from '../page/openPage.js'
import { ask, enterWith } from '../page/servedWalk.js'
import { runProofwalk, runThroughShell } from './runProofwalk.js'
import { boardCorners, put, smallWalkYaml } from './smallWalk.js'
import { temporaryHome } from './temporaryHome.js'

const home = temporaryHome()

/** How often something is killed, half of them `measure`, a quarter `sheet`, a quarter the page: `KILLS=200 npx vitest run tests/journeys/kills.test.ts` does it more often. */
const KILLS = Number(process.env['KILLS'] ?? 20)

/** The walk in two versions, of which each gives other results and another sheet. */
const VERSIONS = [smallWalkYaml(), smallWalkYaml('notes: measured once more\n')]

describe.each([
  { command: 'measure', file: 'results.json', kills: KILLS / 2 },
  { command: 'sheet', file: 'sheet.pdf', kills: Math.ceil(KILLS / 4) },
])('a kill of $command', ({ command, file, kills }) => {
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
      let [midway, asLastWritten] = [0, 0]
      // From its first moment to some time after it should have ended.
      for (let index = 0; index < kills; index++) {
        const share = 0.2 + (0.9 * index) / (kills - 1)
        await put(dir, 'walk.yaml', VERSIONS[index % 2]!)
        const killed = await runProofwalk([command, dir], { killAfterMs: share * lastsMs })
        const left = await readFile(join(dir, file), 'latin1')
        expect(whole.includes(left), `${share} of the run`).toBe(true)
        midway += killed.status === null ? 1 : 0
        asLastWritten += left === whole[index % 2] ? 0 : 1
      }
      expect(midway).toBeGreaterThan(0)
      let parts = 0
      // What is left beside it is hidden, and swept once it is old.
      for (const name of await readdir(dir)) {
        if (!name.endsWith('.part')) continue
        parts += 1
        expect(name).toMatch(/^\./)
        await utimes(join(dir, name), 0, 0)
      }
      const last = await runProofwalk([command, dir])
      expect(last.status).toBe(0)
      const wanted = whole[(kills - 1) % 2]
      expect((await readFile(join(dir, file), 'latin1')) === wanted, 'the version it has').toBe(true)
      expect((await readdir(dir)).filter((name) => name.endsWith('.part'))).toEqual([])
      console.log(
        `${kills} kills of ${command}, ${midway} before its end: none torn; ${asLastWritten} left the file before, ${parts} a hidden part, all swept`,
      )
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

test(
  'a kill of the page loses no pick whose saving it acknowledged, and the next page goes on from there',
  async () => {
    const dir = await home.freshWalk('killed-page')
    const file = 'stills/day/4m.jpg'
    const corners = boardCorners(4)
    const times = Math.ceil(KILLS / 4)
    let [sent, acknowledged, inFlight] = [0, 0, 0]
    const saved = async (): Promise<number> =>
      Math.round(((await readPicks(dir)).byFile.get(file)![0]!.pick.sigmaPx - 0.5) * 1e4)
    for (let kill = 0; kill < times; kill++) {
      const page = await startPick(dir)
      const { port } = page
      const { session } = (await enterWith(port, new URL(page.address).hash.slice(1))).json as {
        session: string
      }
      const own = { 'X-Session': session, Origin: `http://127.0.0.1:${port}` }
      const { json } = await ask(port, '/api/walk', { headers: own })
      const { stills } = json as WalkView
      let still = stills.find((one) => one.file === file)!
      const { sha256 } = (await readPicks(dir)).byFile.get(file)![0]!
      const headers = { ...own, 'Content-Type': 'application/json', 'X-Page': 'test' }
      // Saves one pick after the other until the page is gone; each has a number of its own in its uncertainty.
      for (let first = true; ; first = false) {
        sent += 1
        const pick = { reference: 'board', corners, method: 'hand', sigma: 0.5 + sent / 1e4 }
        const body = JSON.stringify({ file, was: still.picks[0]!.version, sha256, pick })
        const answer = await ask(port, '/api/pick', { method: 'POST', headers, body }).catch(() => null)
        if (answer === null) break
        expect(answer.status, answer.bytes.toString()).toBe(200)
        still = (answer.json as Saved).stills[0] as StillView
        acknowledged = sent
        if (first) setTimeout(() => void page.kill(), 7 * (kill % 43))
      }
      await page.kill() // which waits for its end
      const found = await saved()
      expect([acknowledged, sent]).toContain(found)
      inFlight += found === acknowledged ? 0 : 1
    }
    expect(acknowledged).toBeGreaterThanOrEqual(times)
    console.log(
      `${times} kills of the page, ${sent} picks sent: none acknowledged lost, picks.json always whole; ${inFlight} written and not acknowledged`,
    )
  },
  60_000 + 12_000 * KILLS,
)
