import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { sha256Of } from '../../../src/files/fileSha256.js'
import { measureWalk } from '../../../src/walk/measure/measureWalk.js'
import { readWalk } from '../../../src/walk/read/readWalk.js'
import { resultsText } from '../../../src/walk/schemas/resultsText.js'
import { trialCrops, type TrialCrop } from '../../../src/walk/trial/trialCrops.js'
import { makeTrialWalk } from '../../support/trialWalk.js'
import { browserForTests } from '../browserForTests.js'
import { HAS_CHROMIUM, openPage } from '../openPage.js'

describe.skipIf(!HAS_CHROMIUM)('a reading trial in the browser', () => {
  const tests = browserForTests()
  let dir: string
  let crops: readonly TrialCrop[]
  beforeAll(async () => {
    dir = await mkdtemp(join(tmpdir(), 'proofwalk-read-'))
    await makeTrialWalk(dir, [6, 11, 16, 21], 1)
    const walk = await readWalk(dir)
    const results = await measureWalk(walk, { scene: false })
    await writeFile(join(dir, 'results.json'), resultsText(results))
    crops = (await trialCrops(walk, results)).crops
  }, 240_000)
  afterAll(() => rm(dir, { recursive: true, force: true }))

  it('is read to its end, stopped and taken up again, and gives nothing away', async () => {
    const read = await tests.startCommand(dir, 0, 'read')
    const { page, faults } = await openPage(tests.browser, read.address)
    let sent = ''
    let lastPicture = ''
    // What a page fetches as a blob, the browser's own log of responses has no bytes of.
    await page.route('**/api/**', async (route) => {
      const response = await route.fetch()
      const bytes = await response.body()
      if (route.request().url().includes('/api/trial/crop')) lastPicture = sha256Of(bytes)
      sent += `${route.request().url()}\n${JSON.stringify(response.headers())}\n${bytes.toString('latin1')}\n`
      await route.fulfill({ response, body: bytes })
    })
    const begin = async (): Promise<void> => {
      await page.fill('#reader', 'Anna')
      await page.keyboard.press('Enter')
    }
    const answer = async (text: string | null): Promise<void> => {
      const before = await page.locator('.trial-crop img').getAttribute('src')
      if (text === null) await page.getByRole('button', { name: 'Cannot tell' }).click()
      else {
        await page.fill('#read', text)
        await page.keyboard.press('Enter')
      }
      const isNext = async (): Promise<boolean> => {
        if ((await page.locator('h1').textContent())!.startsWith('That was all')) return true
        const [src = before] = await page
          .locator('.trial-crop img')
          .evaluateAll((images) => images.map((image) => image.getAttribute('src')))
        return src !== before
      }
      await expect.poll(isNext, { timeout: 15_000 }).toBe(true)
    }
    await begin()
    await page.waitForSelector('.trial-crop img')
    for (let practice = 0; practice < 3; practice += 1) await answer('AAAAAAA')
    sent = ''
    // Nine showings: eight crops, one of them again.
    const shownOf = new Map(crops.map(({ id, shown }) => [id, shown]))
    for (let turn = 0; turn < 9; turn += 1) {
      await expect.poll(() => page.locator('h1').textContent()).toBe(`${turn + 1} of 9`)
      if (turn === 4) {
        await page.getByRole('button', { name: 'Stop for now' }).click()
        await begin()
        await page.waitForSelector('.trial-crop img')
      }
      const source = await page.content()
      for (const { shown, file, still } of crops)
        for (const leak of [shown, file, still]) expect(source.includes(leak)).toBe(false)
      await expect.poll(() => shownOf.has(lastPicture), { timeout: 15_000 }).toBe(true)
      await answer(turn === 2 ? null : shownOf.get(lastPicture)!)
    }
    await page.getByText('That was all').waitFor()
    expect(sent.match(/IHDR/g)!.length).toBeGreaterThanOrEqual(9)
    for (const { shown, file, still } of crops)
      for (const leak of [shown, file, still, 'stills']) expect(sent.includes(leak), leak).toBe(false)
    expect(faults).toEqual([])
    const { answers } = JSON.parse(await readFile(join(dir, 'readings.json'), 'utf8')) as {
      answers: { practice: boolean; shown: string; answered: string | null; zoom: number; seconds: number }[]
    }
    const real = answers.filter(({ practice }) => !practice)
    expect(real).toHaveLength(9)
    expect(real.filter(({ shown, answered }) => shown === answered)).toHaveLength(8)
    expect(real.filter(({ answered }) => answered === null)).toHaveLength(1)
    for (const { zoom, seconds } of real) expect(zoom > 0 && seconds > 0).toBe(true)
  }, 120_000)
})
