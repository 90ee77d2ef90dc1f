import { mkdir, readdir, readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { readWalk } from '../../../src/walk/read/readWalk.js'
import { boardCorners, boardStill, put } from '../../journeys/smallWalk.js'
import { temporaryHome } from '../../journeys/temporaryHome.js'
import { axeViolations } from '../axeViolations.js'
import { browserForTests } from '../browserForTests.js'
import { clickPoints, HAS_CHROMIUM, isDrawn, isSaved, openPage } from '../openPage.js'

describe.skipIf(!HAS_CHROMIUM)(
  'a walk begun on the page (skipped only where there is no /usr/bin/chromium)',
  () => {
    const home = temporaryHome()
    const chromium = browserForTests()

    test('one command and no terminal after it: the walk is begun, stills come in, corners are saved', async () => {
      const within = home.path('afternoon')
      await put(home.path('exports'), '5m-day.jpg', await boardStill(5, 'jpeg', 31))
      await mkdir(within)
      const pick = await chromium.startCommand({ within })
      const { page, faults } = await openPage(chromium.browser, pick.address, {
        viewport: { width: 1440, height: 900 },
      })
      const form = page.getByRole('form', { name: 'Begin a walk' })
      const folder = form.getByLabel('Name of its folder')
      await expect.poll(() => folder.inputValue(), { timeout: 20_000 }).toMatch(/^walk-\d{4}-\d\d-\d\d$/)
      expect(await readdir(within)).toEqual([])
      for (const colorScheme of ['light', 'dark'] as const) {
        await page.emulateMedia({ colorScheme })
        expect(await axeViolations(page)).toEqual([])
      }
      // by keys alone
      await folder.focus()
      await page.keyboard.press('ControlOrMeta+a')
      await page.keyboard.type('Net loft')
      await form.getByText(join(within, 'Net loft')).waitFor()
      for (const text of ['Net loft, quay side', 'Loft camera', 'Harbour office']) {
        await page.keyboard.press('Tab')
        await page.keyboard.type(text)
      }
      await form.getByLabel('Size of the board, width first').fill('600x400')
      await form.getByLabel('Marks, from the camera').fill('4 m, 5 m, 9 m')
      await form.getByLabel('It must', { exact: true }).selectOption('know a face')
      await form.getByLabel('at', { exact: true }).fill('5 metres away')
      await form.getByRole('button', { name: 'Begin the walk' }).click()
      await form.getByText('"600x400" is not a size; write it like 600x400mm.').waitFor()
      await expect.poll(() => page.evaluate('document.activeElement.id')).toBe('begin-carry')
      expect(await axeViolations(page)).toEqual([])
      expect(await readdir(within)).toEqual([])
      await form.getByLabel('Size of the board, width first').fill('600x400mm')
      await form.getByLabel('at', { exact: true }).fill('5 m')
      await form.getByLabel('It must also').selectOption('notice movement')
      await form.getByRole('button', { name: 'Begin the walk' }).click()
      await page.getByRole('heading', { name: 'No stills yet' }).waitFor()
      const dir = join(within, 'Net loft')
      expect(await readWalk(dir)).toMatchObject({
        site: 'Net loft, quay side',
        camera: { name: 'Loft camera' },
        people: { client: 'Harbour office' },
        marksM: [4, 5, 9, 16],
        lights: ['day', 'infrared'],
        promises: [
          { task: 'know a face', distanceM: 5, light: 'day' },
          { task: 'notice movement', distanceM: 16, light: 'day' },
        ],
      })
      const chooser = page.waitForEvent('filechooser')
      await page.getByRole('main').getByRole('button', { name: 'Add stills' }).click()
      await (await chooser).setFiles(home.path('exports', '5m-day.jpg'))
      await isDrawn(page, 'stills/day/5m-day.jpg')
      await clickPoints(page, boardCorners(5))
      await isSaved(page)
      await expect
        .poll(() => readFile(join(dir, 'picks.json'), 'utf8').catch(() => ''), { timeout: 20_000 })
        .toContain('5m-day.jpg')
      expect(faults).toEqual([])
    })

    test('on a tablet, in feet, into the folder that was named: a plate alone is told what it does not show', async () => {
      const dir = home.path('named')
      await mkdir(dir)
      const pick = await chromium.start(dir)
      const { page, faults } = await openPage(chromium.browser, pick.address, {
        viewport: { width: 1024, height: 768 },
        hasTouch: true,
      })
      const form = page.getByRole('form', { name: 'Begin a walk' })
      await form.getByText(dir, { exact: true }).waitFor()
      await expect.poll(() => form.getByLabel('Name of its folder').count()).toBe(0)
      await form.getByLabel('Distances in').selectOption('feet')
      await expect.poll(() => form.getByLabel('Marks, from the camera').inputValue()).toMatch(/^12 ft, /)
      await form.getByLabel('Reference').selectOption('plate')
      await form.getByLabel('Which plate').selectOption('plate-na')
      await form.getByLabel('It must', { exact: true }).selectOption('read a plate')
      await form.getByLabel('in', { exact: true }).selectOption('lamp')
      await form
        .getByText('A plate or a staff shows how many pixels fall on it, not how much of them is detail')
        .waitFor()
      expect(await axeViolations(page)).toEqual([])
      await expect.poll(() => page.evaluate('document.scrollingElement.scrollWidth')).toBe(1024)
      await form.getByRole('button', { name: 'Begin the walk' }).tap()
      await page.getByRole('heading', { name: 'No stills yet' }).waitFor()
      const walk = await readWalk(dir)
      expect(walk).toMatchObject({ site: 'named', judge: 'pixels', lights: ['day', 'infrared', 'lamp'] })
      expect(walk.marksM[0]).toBeCloseTo(12 * 0.3048, 9)
      expect(walk.promises).toMatchObject([{ task: 'read a plate', light: 'lamp' }])
      expect(walk.references.map(({ preset }) => preset)).toEqual(['plate-na'])
      expect(faults).toEqual([])
    })
  },
)
