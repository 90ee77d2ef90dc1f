import { mkdir, readFile, rm, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { boardCorners, boardStill, put } from '../../journeys/smallWalk.js'
import { temporaryHome } from '../../journeys/temporaryHome.js'
import { axeViolations } from '../axeViolations.js'
import { browserForTests } from '../browserForTests.js'
import { busyFactor, clickPoints, HAS_CHROMIUM, isDrawn, isSaved, openPage } from '../openPage.js'

const NEAR = 'stills/day/4m.jpg'

describe.skipIf(!HAS_CHROMIUM)(
  'the page for everybody (skipped only where there is no /usr/bin/chromium)',
  () => {
    const home = temporaryHome()
    const chromium = browserForTests()
    test('axe-core finds nothing wrong on any part of the page, light or dark, wide or narrow', async () => {
      const dir = await home.freshWalk('axe')
      await put(dir, 'stills/export-1.jpg', await boardStill(5, 'jpeg', 5))
      const pick = await chromium.start(dir)
      const { page, faults } = await openPage(chromium.browser, pick.address)
      await isDrawn(page, 'stills/export-1.jpg')
      expect(await axeViolations(page)).toEqual([])
      await page.getByRole('option', { name: /^4 m day picked/ }).click()
      await isDrawn(page, NEAR)
      await page.getByRole('region', { name: 'Detail and contrast' }).waitFor()
      expect(await axeViolations(page)).toEqual([])
      await page.emulateMedia({ colorScheme: 'dark' })
      await expect
        .poll(() => page.evaluate('getComputedStyle(document.body).backgroundColor'))
        .toBe('rgb(19, 19, 19)')
      expect(await axeViolations(page)).toEqual([])
      await page.keyboard.press('?')
      await page.getByRole('dialog', { name: 'Keys' }).waitFor()
      expect(await axeViolations(page)).toEqual([])
      await page.keyboard.press('Escape')
      await page.keyboard.press('w')
      await page.getByRole('figure').waitFor()
      expect(await axeViolations(page)).toEqual([])
      await page.emulateMedia({ colorScheme: 'light' })
      for (const width of [768, 360]) {
        await page.setViewportSize({ width, height: 900 })
        for (const room of ['Walk', 'Stills']) {
          await page.getByRole('button', { name: room, exact: true }).click()
          expect(await axeViolations(page), `${room}, ${width} px`).toEqual([])
          await expect
            .poll(() => page.evaluate('document.scrollingElement.scrollWidth'), {
              message: `${room}, ${width} px`,
            })
            .toBe(width)
        }
      }
      expect(faults).toEqual([])
    })

    test('with letters of twice the size nothing lies over anything else, wide or narrow, and the still is there', async () => {
      const dir = await home.freshWalk('letters')
      await rm(join(dir, 'picks.json'))
      const pick = await chromium.start(dir)
      const { page } = await openPage(chromium.browser, pick.address)
      await isDrawn(page, NEAR)
      await page.evaluate(`document.documentElement.style.fontSize = '200%'`)
      await clickPoints(page, boardCorners(4))
      await page.locator('.density-value').waitFor()
      for (const width of [1440, 1024, 700, 360]) {
        await page.setViewportSize({ width, height: 900 })
        // The page lays itself out anew a frame or two after its width changed.
        await expect.poll(() => page.evaluate('innerWidth')).toBe(width)
        await expect.poll(() => page.evaluate<string[]>(OVERLAPS), { message: `${width} px` }).toEqual([])
        const heightPx = async () => (await page.locator('.desk-box').boundingBox())!.height
        await expect.poll(heightPx, { message: `${width} px` }).toBeGreaterThan(300)
      }
    })

    test.each([
      { width: 1440, height: 900 },
      { width: 1024, height: 768 },
    ])('in feet the density, its scale and what is promised are in px/ft, at $width px', async (viewport) => {
      const dir = await home.freshWalk(`feet-${viewport.width}`)
      const yaml = await readFile(join(dir, 'walk.yaml'), 'utf8')
      await writeFile(join(dir, 'walk.yaml'), `${yaml}units: imperial\n`)
      const pick = await chromium.start(dir)
      const { page } = await openPage(chromium.browser, pick.address, {
        viewport,
        hasTouch: viewport.width === 1024,
      })
      await isDrawn(page, NEAR)
      const answer = page.locator('.answer')
      await expect.poll(() => answer.innerText(), { timeout: 20_000 }).toContain('With detail')
      await expect.poll(() => page.locator('.density').innerText()).toMatch(/^9[12]\.?\d* px\/ft$/)
      expect(await answer.innerText()).toContain('limits in px/ft')
      expect(await page.locator('#page').innerText()).not.toContain('px/m')
    })

    test('the still is shown brighter, and what is measured stays', async () => {
      const dir = await home.freshWalk('brighter')
      const pick = await chromium.start(dir)
      const { page } = await openPage(chromium.browser, pick.address)
      await isDrawn(page, NEAR)
      // The region comes first with a line that says it is being measured, its figures later.
      let before = ''
      await expect
        .poll(async () => (before = await page.locator('.answer').innerText()), { timeout: 20_000 })
        .toContain('With detail')
      const filter = () =>
        page.evaluate<string>(`getComputedStyle(document.querySelector('.desk-canvas')).filter`)
      await expect.poll(filter).toBe('brightness(1) contrast(1)')
      await page.getByText('Brighter', { exact: true }).click()
      await page.getByRole('slider', { name: 'Brightness' }).fill('3')
      await page.getByRole('slider', { name: 'Contrast' }).fill('2')
      await expect.poll(filter).toBe('brightness(3) contrast(2)')
      expect(await axeViolations(page)).toEqual([])
      // What the server measures meanwhile is read again, so what is shown may come a moment later.
      await expect.poll(() => page.locator('.answer').innerText(), { timeout: 20_000 }).toBe(before)
      await page.getByRole('button', { name: 'As it is' }).click()
      await expect.poll(filter).toBe('brightness(1) contrast(1)')
    })

    test.each([
      { width: 1024, height: 768 },
      { width: 768, height: 1024 },
    ])(
      'on a tablet of $width x $height px the still has most of the height, and stays when figures come',
      async (viewport) => {
        const dir = await home.freshWalk(`height-${viewport.width}`)
        await rm(join(dir, 'picks.json'))
        const pick = await chromium.start(dir)
        const { page } = await openPage(chromium.browser, pick.address, { viewport, hasTouch: true })
        await isDrawn(page, NEAR)
        const before = (await page.locator('.desk-box').boundingBox())!
        expect(before.height / viewport.height).toBeGreaterThan(0.5)
        await clickPoints(page, boardCorners(4))
        await page.locator('.density-value').waitFor()
        await isSaved(page)
        expect(await page.locator('.desk-box').boundingBox()).toEqual(before)
      },
    )

    test('light or dark is as the machine is set, or as chosen, and the choice stays', async () => {
      const dir = await home.freshWalk('theme')
      const pick = await chromium.start(dir)
      const { page } = await openPage(chromium.browser, pick.address, { colorScheme: 'dark' })
      await isDrawn(page, NEAR)
      const ground = () => page.evaluate('getComputedStyle(document.body).backgroundColor')
      await expect.poll(ground).toBe('rgb(19, 19, 19)')
      await page.getByRole('button', { name: 'Light or dark: as set' }).click()
      await expect.poll(ground).toBe('rgb(255, 255, 255)')
      await page.reload()
      await isDrawn(page, NEAR)
      await expect.poll(ground).toBe('rgb(255, 255, 255)')
    })

    test('at 768 px a still is picked, and the page says that stills stay on this machine', async () => {
      const dir = await home.freshWalk('tablet')
      await rm(join(dir, 'picks.json'))
      const pick = await chromium.start(dir)
      const { page } = await openPage(chromium.browser, pick.address, {
        viewport: { width: 768, height: 1024 },
      })
      await isDrawn(page, NEAR)
      await clickPoints(page, boardCorners(4))
      await page.locator('.density-value').waitFor()
      await isSaved(page)
      await page.getByText('Stills stay on this machine.').waitFor()
    })

    test('the first still is seen within a second, from a folder of five hundred too, of which only those in view are asked for', async () => {
      const dir = home.path('many')
      await mkdir(join(dir, 'stills'), { recursive: true })
      const yaml = await readFile(home.path('pattern', 'walk.yaml'))
      await writeFile(join(dir, 'walk.yaml'), yaml)
      const bytes = await boardStill(6, 'jpeg', 6)
      for (let i = 1; i <= 500; i++)
        await writeFile(join(dir, `stills/export-${String(i).padStart(3, '0')}.jpg`), bytes)
      const pick = await chromium.start(dir)
      const { page, context } = await openPage(chromium.browser, pick.address)
      await isDrawn(page, 'stills/export-001.jpg')
      await expect.poll(() => page.locator('.strip-item').count()).toBe(500)
      const times: number[] = []
      for (let again = 0; again < 3; again++) {
        const fresh = await context.newPage()
        const thumbs: string[] = []
        fresh.on('request', (request) => {
          if (request.url().includes('/thumb')) thumbs.push(request.url())
        })
        await fresh.goto(new URL(pick.address).origin)
        await isDrawn(fresh, 'stills/export-001.jpg')
        times.push(await fresh.evaluate<number>('performance.now()'))
        expect(thumbs.length).toBeLessThan(60)
        await fresh.close()
      }
      const busy = busyFactor()
      console.log(
        `first still of 500 drawn after ${times.map((ms) => ms.toFixed(0)).join(', ')} ms on a machine ${busy.toFixed(1)} times busy`,
      )
      expect(Math.min(...times)).toBeLessThan(1000 * busy)
    })

    test('a walk with no still says where to put them, and shows one as it arrives', async () => {
      const dir = home.path('empty')
      await put(dir, 'walk.yaml', await readFile(home.path('pattern', 'walk.yaml')))
      const pick = await chromium.start(dir)
      const { page } = await openPage(chromium.browser, pick.address)
      await page.getByRole('heading', { name: 'No stills yet' }).waitFor()
      expect(await axeViolations(page)).toEqual([])
      await put(dir, NEAR, await boardStill(4, 'jpeg', 4))
      await isDrawn(page, NEAR)
    })
  },
)

/** Texts and controls in sight that lie over each other, two a line: what a scroller cuts off is not in sight, what lies in another is not over it; the strip's heads stay above what is scrolled beneath them. */
const OVERLAPS = `(() => {
  const inSight = (element) => {
    let { left, top, right, bottom } = element.getBoundingClientRect()
    for (let around = element.parentElement; around !== null; around = around.parentElement) {
      if (getComputedStyle(around).overflow === 'visible') continue
      const box = around.getBoundingClientRect()
      ;[left, top] = [Math.max(left, box.left), Math.max(top, box.top)]
      ;[right, bottom] = [Math.min(right, box.right), Math.min(bottom, box.bottom)]
    }
    return { element, left, top, right, bottom }
  }
  const all = [...document.querySelectorAll('button:not(.handle), input, select, label, p:not(.strip-head), h1, h2, dt, dd, summary, .strip-item, .desk-box')]
    .filter((element) => element.checkVisibility() && element.closest('.unseen') === null)
    .map(inSight)
    .filter(({ left, top, right, bottom }) => right - left > 2 && bottom - top > 2)
  return all.flatMap((one, index) =>
    all.slice(index + 1).flatMap((other) => {
      if (one.element.contains(other.element) || other.element.contains(one.element)) return []
      const across = Math.min(one.right, other.right) - Math.max(one.left, other.left)
      const down = Math.min(one.bottom, other.bottom) - Math.max(one.top, other.top)
      const nameOf = ({ element }) => element.className + ' ' + element.textContent.slice(0, 30)
      return across > 2 && down > 2 ? [nameOf(one) + ' / ' + nameOf(other)] : []
    }),
  )
})()`
