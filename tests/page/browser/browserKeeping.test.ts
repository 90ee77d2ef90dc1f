import { readFile, rm, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { describe, expect, test } from 'vitest'
import { expectNear } from '../../nearly.js'
import { boardCorners, boardStill, put } from '../../journeys/smallWalk.js'
import { temporaryHome } from '../../journeys/temporaryHome.js'
import { ROUTES } from '../../../src/page/api.js'
import { browserForTests } from '../browserForTests.js'
import {
  clickPoints,
  HAS_CHROMIUM,
  isDrawn,
  isSaved,
  type OpenPage,
  openPage,
  PLACES,
  type RunningPage,
  type RunningPick,
} from '../openPage.js'

const NEAR = 'stills/day/4m.jpg'
const FAR = 'stills/day/9m.jpg'

describe.skipIf(!HAS_CHROMIUM).each(PLACES)(
  'what is picked is kept %s (skipped only where there is no /usr/bin/chromium)',
  (_, place) => {
    const home = temporaryHome()
    const chromium = browserForTests()

    /** The small walk without its picks, its page open at the nearest still. */
    async function freshPage(name: string): Promise<OpenPage & { dir: string; pick: RunningPage }> {
      return opened(name, (dir) => chromium.start(dir))
    }

    /** The same, served by a command that can be killed. */
    async function pageOfCommand(name: string): Promise<OpenPage & { dir: string; pick: RunningPick }> {
      return opened(name, (dir) => chromium.startCommand(dir))
    }

    async function opened<Running extends RunningPage>(
      name: string,
      start: (dir: string) => Promise<Running>,
    ): Promise<OpenPage & { dir: string; pick: Running }> {
      const dir = await home.freshWalk(name)
      await rm(join(dir, 'picks.json'))
      const pick = await start(dir)
      const page = await openPage(chromium.browser, pick.address, place)
      await isDrawn(page.page, NEAR)
      return { dir, pick, ...page }
    }

    /** Clicks the four corners of the board. */
    async function pickByHand(page: Page, distanceM: number): Promise<void> {
      await clickPoints(page, boardCorners(distanceM))
      await page.getByRole('button', { name: /^Corner top left/ }).waitFor()
      await isSaved(page)
    }

    async function cornersOnDisk(dir: string, file: string): Promise<[number, number][] | null> {
      const text = await readFile(join(dir, 'picks.json'), 'utf8').catch(() => '{"stills":{}}')
      const { stills } = JSON.parse(text) as { stills: Record<string, { corners: [number, number][] }> }
      return stills[file]?.corners ?? null
    }

    async function nudge(page: Page, key: string): Promise<void> {
      await page.getByRole('button', { name: /^Corner top left/ }).focus()
      await page.keyboard.press(key)
    }

    test('a still that is replaced while its fit runs takes neither the fit nor what was placed on the one before', async () => {
      const { dir, page } = await freshPage('replaced')
      let answer = (): void => undefined
      const replaced = new Promise<void>((resolve) => (answer = resolve))
      await page.route('**/api/snap', async (route) => {
        const reply = await route.fetch()
        await replaced
        await route.fulfill({ response: reply })
      })
      const [a, b, c, d] = boardCorners(4)
      await clickPoints(page, [a!, c!])
      await page.getByText('Fitting the outline to the edges').waitFor()
      const bytes = await boardStill(6, 'jpeg', 6)
      await writeFile(join(dir, NEAR), bytes)
      await page.getByText('Click a corner of the light rectangle').waitFor()
      const came = page.waitForResponse('**/api/snap')
      answer()
      await (await came).finished()
      // What is asked from now on needs no holding, and must not outlive the page.
      await page.unroute('**/api/snap')
      await expect.poll(() => page.locator('.handle').count()).toBe(0)
      await expect.poll(() => page.getByText(/Dashed: fitted/).count()).toBe(0)
      await page.keyboard.press('Enter')
      await page.getByRole('option', { name: /^4 m day to pick/ }).click()
      await isDrawn(page, NEAR)
      expect(await cornersOnDisk(dir, NEAR)).toBeNull()
      // Two more corners of the one before are two, not four.
      await clickPoints(page, [b!, d!])
      await page.getByRole('option', { name: /^4 m day begun, 2 placed/ }).waitFor()
      expect(await cornersOnDisk(dir, NEAR)).toBeNull()
    })

    test('of three hundred badly named stills each is listed, none is assigned unasked, and all are at once where it is asked', async () => {
      const dir = await home.freshWalk('names')
      await rm(join(dir, 'picks.json'))
      await rm(join(dir, 'stills/day'), { recursive: true })
      const bytes = await boardStill(6, 'jpeg', 6)
      const odd = [
        '16',
        '<b>x</b>',
        '%2e%2e',
        'é\u202egpj',
        'a'.repeat(180),
        '-1 m',
        "it's",
        '5..m',
        'm5',
        ' ',
      ]
      for (let i = 0; i < 300; i += 1) await put(dir, `stills/${odd[i % odd.length]} ${i}.jpg`, bytes)
      const pick = await chromium.start(dir)
      const { page, faults } = await openPage(chromium.browser, pick.address, place)
      await page.getByText('300 stills, 300 to do').waitFor({ state: 'attached' })
      await expect.poll(() => page.locator('.strip-item[data-state=unassigned]').count()).toBe(300)
      await page.locator('.strip').focus()
      await page.keyboard.press('Control+a')
      await page.keyboard.press('y')
      await page.getByLabel('Stills at one mark').selectOption('6')
      await page.getByRole('heading', { name: 'Assign 18 stills in the order they were taken?' }).waitFor()
      await page.getByText('282 more stay as they are').waitFor()
      await page.getByRole('button', { name: 'Assign these' }).click()
      await page.locator('.strip-item[data-state=assigned]').nth(17).waitFor()
      await isSaved(page)
      expect((await readFile(join(dir, 'walk.yaml'), 'utf8')).match(/file:/g)).toHaveLength(18)
      expect(faults).toEqual([])
    })

    test('undo takes the corners off the disk again, redo puts them back, and a page opened anew shows them', async () => {
      const { dir, page } = await freshPage('undo')
      await pickByHand(page, 4)
      const picked = await cornersOnDisk(dir, NEAR)
      expectNear(picked![0]![0], boardCorners(4)[0]![0], { abs: 2 }, 'clicked to a px of the screen')
      await nudge(page, 'ArrowRight')
      await isSaved(page)
      expectNear(
        (await cornersOnDisk(dir, NEAR))![0]![0],
        picked![0]![0] + 1,
        { abs: 1e-3 },
        'nudged by 1 px',
      )
      await page.keyboard.press('Control+z')
      await isSaved(page)
      expect(await cornersOnDisk(dir, NEAR)).toEqual(picked)
      await page.keyboard.press('Control+z')
      await page
        .getByText('Click a corner of the light rectangle of the board (600 mm x 400 mm), then')
        .waitFor()
      await isSaved(page)
      expect(await cornersOnDisk(dir, NEAR)).toBeNull()
      await page.keyboard.press('Control+Shift+z')
      await page.locator('.density-value').waitFor()
      await isSaved(page)
      expect(await cornersOnDisk(dir, NEAR)).toEqual(picked)
      await page.reload()
      await page.getByRole('option', { name: /^4 m day picked/ }).click()
      await isDrawn(page, NEAR)
      await expect.poll(() => page.getByRole('button', { name: /^Corner/ }).count()).toBe(4)
    })

    test('a pick taken back slowly and put back fast is there after the page is opened anew', async () => {
      const { dir, page } = await freshPage('back-and-forth')
      await pickByHand(page, 4)
      const picked = await cornersOnDisk(dir, NEAR)
      await page.route('**/api/pick', async (route) => {
        const reply = await route.fetch()
        // so long that what is kept beside the walk says that the pick is being taken back
        await expect
          .poll(() => readFile(join(dir, '.proofwalk/unsaved.json'), 'utf8').catch(() => ''))
          .toContain('"pick":null')
        await route.fulfill({ response: reply })
      })
      const takenBack = page.waitForResponse('**/api/pick')
      await page.keyboard.press('Control+z')
      await takenBack
      await page.unroute('**/api/pick')
      await page.route('**/api/unsaved', async (route) => {
        // What is kept from now on is slow to arrive.
        if (route.request().method() === 'POST') await new Promise((later) => setTimeout(later, 800))
        await route.continue()
      })
      const putBack = page.waitForResponse('**/api/pick')
      await page.keyboard.press('Control+Shift+z')
      await putBack
      await isSaved(page)
      await page.reload()
      await page.getByRole('option', { name: /^4 m day picked/ }).waitFor()
      await isSaved(page)
      expect(await cornersOnDisk(dir, NEAR)).toEqual(picked)
    })

    test('points that became a pick before the page could say so are not begun any more', async () => {
      const dir = await home.freshWalk('became-a-pick')
      const { stills } = JSON.parse(await readFile(join(dir, 'picks.json'), 'utf8')) as {
        stills: Record<string, { sha256: string }>
      }
      const clicks = boardCorners(4).map((point) => ({ point, sigmaPx: 0.5 }))
      const begun = (file: string, count: number) => ({
        file,
        sha256: stills[file]!.sha256,
        reference: 'board',
        clicks: clicks.slice(0, count),
      })
      await put(
        dir,
        'picks.json',
        JSON.stringify({ format: 'proofwalk-picks/1', stills: { [NEAR]: stills[NEAR] } }),
      )
      const drafts = [begun(NEAR, 3), begun(FAR, 2)]
      const history = { done: [], undone: [] }
      const kept = { format: 'proofwalk-unsaved/1', drafts, unsaved: [], history, assignedSo: [] }
      await put(dir, '.proofwalk/unsaved.json', JSON.stringify(kept))
      const pick = await chromium.start(dir)
      const { page } = await openPage(chromium.browser, pick.address, place)
      await page.getByRole('option', { name: /^9 m day begun, 2 placed/ }).waitFor()
      await page.getByRole('option', { name: /^4 m day picked/ }).waitFor()
    })

    test('a second page sees at once what the first one picks', async () => {
      const { context, page, pick } = await freshPage('two')
      const other = await context.newPage()
      await other.goto(new URL(pick.address).origin)
      await isDrawn(other, NEAR)
      await pickByHand(page, 4)
      await other.locator('.density-value').waitFor()
      await other.getByText(`${NEAR} was changed in another page`).waitFor()
    })

    test('two pages that change one pick at the same time are told, nothing is lost, and the person chooses', async () => {
      const { context, dir, page, pick } = await freshPage('conflict')
      await pickByHand(page, 4)
      // A page that hears nothing of the other, as one that was asleep.
      const deaf = await context.newPage()
      await deaf.route('**/api/events', () => undefined)
      await deaf.goto(new URL(pick.address).origin)
      await deaf.getByRole('option', { name: /^4 m day picked/ }).click()
      await isDrawn(deaf, NEAR)
      await nudge(page, 'ArrowLeft')
      await isSaved(page)
      const theirs = await cornersOnDisk(dir, NEAR)
      await nudge(deaf, 'ArrowDown')
      await deaf.getByText('changed elsewhere at the same time').waitFor()
      expect(await cornersOnDisk(dir, NEAR)).toEqual(theirs)
      await deaf.getByRole('button', { name: 'Keep mine' }).click()
      await isSaved(deaf)
      const mine = await cornersOnDisk(dir, NEAR)
      expectNear(mine![0]![0], theirs![0]![0] + 1, { abs: 1e-3 }, 'mine had not moved to the left')
      expectNear(mine![0]![1], theirs![0]![1] + 1, { abs: 1e-3 }, 'mine had moved down')
      // The first page moves on only from what the other saved.
      const shown = (where: Page) =>
        where.getByRole('button', { name: /^Corner top left/ }).getAttribute('aria-label')
      await expect.poll(() => shown(page), { timeout: 20_000 }).toBe(await shown(deaf))
      await nudge(page, 'ArrowUp')
      await isSaved(page)
      const again = await cornersOnDisk(dir, NEAR)
      await nudge(deaf, 'ArrowDown')
      await deaf.getByRole('button', { name: 'Take the other' }).click()
      await isSaved(deaf)
      expect(await cornersOnDisk(dir, NEAR)).toEqual(again)
    })

    test('walk.yaml edited by hand meanwhile is taken up and told, and what is wrong with it is told too', async () => {
      const { dir, page } = await freshPage('by-hand')
      const text = await readFile(join(dir, 'walk.yaml'), 'utf8')
      await writeFile(join(dir, 'walk.yaml'), text.replace('site: Net loft', 'site: Sail loft'))
      await page.locator('.bar-name', { hasText: 'Sail loft' }).waitFor()
      await writeFile(join(dir, 'walk.yaml'), text.replace('site: Net loft', 'sight: Net loft'))
      await page.locator('.notice', { hasText: 'sight' }).waitFor()
      await writeFile(join(dir, 'walk.yaml'), text)
      await page.locator('.bar-name', { hasText: 'Net loft' }).waitFor()
      await pickByHand(page, 4)
      expect(await cornersOnDisk(dir, NEAR)).not.toBeNull()
      expect(await readFile(join(dir, 'walk.yaml'), 'utf8')).toBe(text)
    })

    test('news of a still that overtakes the walk as it was before is not lost', async () => {
      const { context, dir, page, pick } = await freshPage('overtaken')
      let letGo = (): void => undefined
      const held = new Promise<void>((resolve) => (letGo = resolve))
      let asked = (): void => undefined
      const wasAsked = new Promise<void>((resolve) => (asked = resolve))
      await page.route(`**${ROUTES.walk}`, async (route) => {
        const response = await route.fetch()
        asked()
        await held
        await route.fulfill({ response })
      })
      const text = await readFile(join(dir, 'walk.yaml'), 'utf8')
      await writeFile(join(dir, 'walk.yaml'), text.replace('site: Net loft', 'site: Sail loft'))
      await wasAsked
      const other = await context.newPage()
      await other.goto(new URL('/', pick.address).href)
      await isDrawn(other, NEAR)
      await pickByHand(other, 4)
      await page.getByRole('option', { name: /^4 m day picked by hand/ }).waitFor()
      letGo()
      await page.locator('.bar-name', { hasText: 'Sail loft' }).waitFor()
      await page.getByRole('option', { name: /^4 m day picked by hand/ }).waitFor()
    })

    test('a killed server is told, what is picked meanwhile is kept in the page, and saved once it runs again', async () => {
      const { context, dir, page, pick } = await pageOfCommand('killed')
      await pickByHand(page, 4)
      await page.getByRole('option', { name: /^9 m/ }).click()
      await isDrawn(page, FAR)
      await pick.kill()
      await page.getByText('No answer from proofwalk on this machine').waitFor()
      await clickPoints(page, boardCorners(9))
      await page.getByText('1 change kept here, not saved yet').waitFor()
      await page.locator('.density-value').waitFor()
      expect(await cornersOnDisk(dir, FAR)).toBeNull()
      const again = await chromium.startCommand(dir, pick.port)
      const opened = await context.newPage()
      await opened.goto(again.address)
      await isSaved(page)
      const corners = await cornersOnDisk(dir, FAR)
      expectNear(corners![0]![0], boardCorners(9)[0]![0], { abs: 2 }, 'clicked to a px of the screen')
      await expect
        .poll(() => page.locator('.notice.grave').allTextContents(), { timeout: 20_000 })
        .toEqual([])
    })

    test('a killed command and a closed tab lose nothing: on another port what was begun and what can be undone are there', async () => {
      const { context, dir, page, pick } = await pageOfCommand('elsewhere')
      await pickByHand(page, 4)
      await page.getByRole('option', { name: /^9 m/ }).click()
      await isDrawn(page, FAR)
      await clickPoints(page, boardCorners(9).slice(0, 3))
      await page.getByRole('option', { name: /^9 m day begun, 3 placed/ }).waitFor()
      await expect
        .poll(async () => {
          const text = await readFile(join(dir, '.proofwalk/unsaved.json'), 'utf8').catch(() => '')
          return text.match(/sigmaPx/g)?.length
        })
        .toBe(3)
      await pick.kill()
      await page.close()
      const again = await chromium.startCommand(dir)
      expect(again.port).not.toBe(pick.port)
      const opened = await context.newPage()
      await opened.goto(again.address)
      await opened.getByRole('option', { name: /^9 m day begun, 3 placed/ }).click()
      await isDrawn(opened, FAR)
      await clickPoints(opened, [boardCorners(9)[3]!])
      await opened.locator('.density-value').waitFor()
      await isSaved(opened)
      expect(await cornersOnDisk(dir, FAR)).not.toBeNull()
      expect(await cornersOnDisk(dir, NEAR)).not.toBeNull()
      await opened.keyboard.press('Control+z')
      await opened.keyboard.press('Control+z')
      await isDrawn(opened, NEAR)
      await isSaved(opened)
      expect(await cornersOnDisk(dir, FAR)).toBeNull()
      expect(await cornersOnDisk(dir, NEAR)).toBeNull()
    })
  },
)
