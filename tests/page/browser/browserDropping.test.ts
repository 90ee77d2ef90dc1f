import { mkdir, readdir, readFile, truncate, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { describe, expect, test } from 'vitest'
import { boardStill, put } from '../../journeys/smallWalk.js'
import { temporaryHome } from '../../journeys/temporaryHome.js'
import { axeViolations } from '../axeViolations.js'
import { browserForTests } from '../browserForTests.js'
import { HAS_CHROMIUM, isDrawn, isSaved, openPage, PLACES } from '../openPage.js'

/** Drags what lies at these paths over the page and, where `isLet`, lets it go: as a hand would, files and folders alike. */
async function drag(page: Page, paths: readonly string[], isLet = true): Promise<void> {
  const browser = await page.context().newCDPSession(page)
  const data = { items: [], files: [...paths], dragOperationsMask: 1 }
  for (const type of ['dragEnter', 'dragOver', ...(isLet ? ['drop' as const] : [])] as const)
    await browser.send('Input.dispatchDragEvent', { type, x: 600, y: 400, data })
}

describe.skipIf(!HAS_CHROMIUM).each(PLACES)(
  'stills dropped on the page %s (skipped only where there is no /usr/bin/chromium)',
  (_, place) => {
    const home = temporaryHome()
    const chromium = browserForTests()

    /** A folder of what a person may drag: three stills, and what is none. */
    async function dragged(name: string): Promise<{ at: (file: string) => string; stills: Buffer[] }> {
      const dir = home.path(name)
      await mkdir(join(dir, 'a folder'), { recursive: true })
      const stills = await Promise.all([21, 22, 23].map((seed) => boardStill(5, 'jpeg', seed)))
      await put(dir, '5m-day.jpg', stills[0]!)
      await put(dir, 'export 1.jpg', stills[1]!)
      await put(dir, 'export 2.jpg', stills[2]!)
      await put(dir, 'a folder/3m.jpg', stills[0]!)
      await put(dir, 'clip.mp4', Buffer.alloc(5000, 'x'))
      await put(dir, 'tool.jpg', Buffer.concat([Buffer.from('\x7fELF'), Buffer.alloc(5000)]))
      await writeFile(join(dir, 'long.tif'), 'II*\0')
      await truncate(join(dir, 'long.tif'), 2_000_000_000)
      return { at: (file) => join(dir, file), stills }
    }

    test('are copied whole where their names say or wait chosen for a hand, what is none is told with a sentence each, and all is taken back', async () => {
      const dir = await home.freshWalk('dropped')
      const before = (await readdir(join(dir, 'stills'), { recursive: true })).sort()
      const { at, stills } = await dragged('from-1')
      const pick = await chromium.start(dir)
      const { page, faults } = await openPage(chromium.browser, pick.address, place)
      await isDrawn(page, 'stills/day/4m.jpg')
      await drag(page, [at('5m-day.jpg')], false)
      await page.getByText('Drop stills here: they are copied into dropped/stills').waitFor()
      const names = [
        '5m-day.jpg',
        'export 1.jpg',
        'export 2.jpg',
        'a folder',
        'clip.mp4',
        'tool.jpg',
        'long.tif',
      ]
      await drag(page, names.map(at))
      const panel = page.getByRole('region', { name: 'Stills copied into the walk' })
      await panel
        .getByText('3 stills copied: 1 where its name says, 2 wait for a mark and a light. 4 not.')
        .waitFor()
      await page.locator('.drop-veil').waitFor({ state: 'detached' })
      const told = await panel.getByRole('listitem').allTextContents()
      expect(told).toEqual([
        'a folder: is a folder; open it and drop the stills in it',
        expect.stringMatching(/^clip\.mp4: is a video; export a still at full size from the recorder/),
        'tool.jpg: it is not a picture, whatever its name says; export the still as JPEG or PNG',
        'long.tif: has 2000 MB, at most 1000 MB are taken; export a single still',
      ])
      expect(await readFile(join(dir, 'stills/day/5m-day.jpg'))).toEqual(stills[0])
      expect(await readFile(join(dir, 'stills/export 2.jpg'))).toEqual(stills[2])
      for (const colorScheme of ['light', 'dark'] as const) {
        await page.emulateMedia({ colorScheme })
        expect(await axeViolations(page)).toEqual([])
      }
      await expect.poll(() => page.locator('.strip-item[aria-selected=true]').count()).toBe(2)
      await expect.poll(() => page.locator('.notices .notice').count()).toBe(0)
      await panel.getByRole('button', { name: 'Take back all 3' }).click()
      await expect
        .poll(async () => (await readdir(join(dir, 'stills'), { recursive: true })).sort(), {
          timeout: 20_000,
        })
        .toEqual([...before])
      await expect.poll(() => page.locator('.strip-item').count(), { timeout: 20_000 }).toBe(3)
      await isDrawn(page, 'stills/day/4m.jpg')
      expect(faults).toEqual([])
    })

    test('a still that was assigned since stays until that is undone; one of several goes back alone', async () => {
      const dir = await home.freshWalk('dropped-used')
      const { at } = await dragged('from-2')
      const pick = await chromium.start(dir)
      const { page } = await openPage(chromium.browser, pick.address, place)
      await isDrawn(page, 'stills/day/4m.jpg')
      await drag(page, ['export 1.jpg', 'export 2.jpg'].map(at))
      await page.getByText('2 stills copied').waitFor()
      await page.getByRole('button', { name: 'Put away' }).click()
      await page.locator('.strip-item', { hasText: 'export 2.jpg' }).click()
      await page.getByLabel('Mark', { exact: true }).fill('5 m')
      await page.getByLabel('Light', { exact: true }).fill('day')
      await page.getByRole('button', { name: 'Assign', exact: true }).click()
      await isSaved(page)
      await page.getByRole('button', { name: 'Take back this still' }).click()
      await page
        .getByText('stills/export 2.jpg: has corners, or a place in walk.yaml, by now; undo those first')
        .waitFor()
      await page.getByRole('button', { name: 'Undo' }).click()
      await isSaved(page)
      await page.getByRole('button', { name: 'Take back this still' }).click()
      await page.locator('.strip-item', { hasText: 'export 2.jpg' }).waitFor({ state: 'detached' })
      expect(await readdir(join(dir, 'stills'))).toEqual(['day', 'export 1.jpg'])
    })

    test('Ctrl-Z takes a copying back, after what was done with it, and never what was there before', async () => {
      const dir = await home.freshWalk('dropped-undone')
      const before = (await readdir(join(dir, 'stills'), { recursive: true })).sort()
      const { at } = await dragged('from-5')
      const pick = await chromium.start(dir)
      const { page, faults } = await openPage(chromium.browser, pick.address, place)
      await isDrawn(page, 'stills/day/4m.jpg')
      await drag(page, ['5m-day.jpg', 'export 1.jpg'].map(at))
      await page.getByText('2 stills copied').waitFor()
      await isDrawn(page, 'stills/export 1.jpg')
      await page.getByLabel('Mark', { exact: true }).fill('5 m')
      await page.getByLabel('Light', { exact: true }).fill('day')
      await page.getByRole('button', { name: 'Assign', exact: true }).click()
      await isSaved(page)
      await page.locator('.desk-box').focus()
      await page.keyboard.press('Control+z')
      await page.keyboard.press('Control+z')
      await page.locator('.strip-item', { hasText: 'export 1.jpg' }).waitFor({ state: 'detached' })
      await expect
        .poll(async () => (await readdir(join(dir, 'stills'), { recursive: true })).sort(), {
          timeout: 20_000,
        })
        .toEqual(before)
      await expect.poll(() => page.getByRole('button', { name: 'Undo' }).isDisabled()).toBe(true)
      expect(await page.locator('.notices .notice').allTextContents()).toEqual([])
      expect(faults).toEqual([])
    })

    test('are chosen, by touch or click, into a walk that has none yet', async () => {
      const dir = home.path('first')
      await put(dir, 'walk.yaml', await readFile(home.path('pattern', 'walk.yaml')))
      const { at } = await dragged('from-3')
      const pick = await chromium.start(dir)
      const { page, faults } = await openPage(chromium.browser, pick.address, place)
      await page.getByRole('heading', { name: 'No stills yet' }).waitFor()
      expect(await axeViolations(page)).toEqual([])
      const chooser = page.waitForEvent('filechooser')
      const add = page.getByRole('main').getByRole('button', { name: 'Add stills' })
      await (place.hasTouch ? add.tap() : add.click())
      await (await chooser).setFiles(['5m-day.jpg', 'export 1.jpg'].map(at))
      await page
        .getByText('2 stills copied: 1 where its name says, 1 waits for a mark and a light.')
        .waitFor()
      await isDrawn(page, 'stills/export 1.jpg')
      await expect
        .poll(() => page.evaluate('document.scrollingElement.scrollWidth'))
        .toBe(place.viewport.width)
      expect(await axeViolations(page)).toEqual([])
      expect(faults).toEqual([])
    })

    test('a copying that is slow shows how far it is, and is stopped with nothing half there', async () => {
      const dir = await home.freshWalk('stopped')
      const { at } = await dragged('from-4')
      const pick = await chromium.start(dir)
      const { page, context } = await openPage(chromium.browser, pick.address, place)
      await isDrawn(page, 'stills/day/4m.jpg')
      let let1 = (): void => undefined
      const held = new Promise<void>((resolve) => (let1 = resolve))
      await context.route('**/api/drop?name=export+2.jpg', async (route) => {
        await held
        await route.continue().catch(() => undefined)
      })
      const chooser = page.waitForEvent('filechooser')
      await page.getByRole('button', { name: 'Add stills' }).focus()
      await page.keyboard.press('Enter')
      await (await chooser).setFiles(['export 1.jpg', 'export 2.jpg', '5m-day.jpg'].map(at))
      await page.getByText('2 of 3, export 2.jpg').waitFor()
      await expect.poll(() => page.getByRole('progressbar').getAttribute('max')).toBe('3')
      expect(await axeViolations(page)).toEqual([])
      await page.getByRole('button', { name: 'Stop' }).click()
      let1()
      await page.getByText('1 still copied: 1 waits for a mark and a light. 1 not.').waitFor()
      await page.getByText('export 2.jpg: was not copied: the copying ended before it was whole').waitFor()
      expect(
        (await readdir(dir, { recursive: true })).filter((name) => /5m-day|export 2|\.part$/.test(name)),
      ).toEqual([])
      await isSaved(page)
    })
  },
)
