import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { readSheetPdf } from '../../../src/sheet/verify/readSheetPdf.js'
import { temporaryHome } from '../../journeys/temporaryHome.js'
import { axeViolations } from '../axeViolations.js'
import { browserForTests } from '../browserForTests.js'
import { HAS_CHROMIUM, isDrawn, openPage } from '../openPage.js'

describe.skipIf(!HAS_CHROMIUM)('the Sheet button (skipped only where there is no /usr/bin/chromium)', () => {
  const home = temporaryHome()
  const chromium = browserForTests()

  test.each([
    ['at 1440 px by keys', { viewport: { width: 1440, height: 900 } }],
    ['at 1024 px by touch', { viewport: { width: 1024, height: 768 }, hasTouch: true }],
  ])('%s asks paper and masking once, and never unmasks without a word', async (name, options) => {
    const dir = await home.freshWalk(`sheet-${options.viewport.width}`)
    const pick = await chromium.start(dir)
    const { page, faults } = await openPage(chromium.browser, pick.address, options)
    await isDrawn(page, 'stills/day/4m.jpg')
    const press = async (text: string, isTap = name.includes('touch')): Promise<void> => {
      const button = page.getByRole('button', { name: text, exact: true })
      if (isTap) return button.tap()
      await button.focus()
      await page.keyboard.press('Enter')
    }
    const masked = async (): Promise<boolean> =>
      (await readSheetPdf(await readFile(join(dir, 'sheet.pdf')), '')).text.includes('are masked')
    await press('Sheet')
    const how = page.getByRole('dialog', { name: 'How is the sheet written?' })
    await how.waitFor()
    for (const colorScheme of ['light', 'dark'] as const) {
      await page.emulateMedia({ colorScheme })
      expect(await axeViolations(page)).toEqual([])
    }
    await how.getByLabel('Letter').check()
    await how.getByLabel('plates, boards and charts').check()
    await press('Write the sheet')
    await page.getByRole('link', { name: 'Open sheet.pdf' }).waitFor({ timeout: 60_000 })
    expect(await readFile(join(dir, 'walk.yaml'), 'utf8')).toMatch(
      /\nsheet: \{ paper: Letter, mask: plates \}\n$/,
    )
    expect(await masked()).toBe(true)

    // Held back until its word was seen: writing a small sheet takes a moment alone.
    let goOn = (): void => undefined
    const isSeen = new Promise<void>((resolve) => (goOn = resolve))
    await page.route('**/api/sheet', (route) => isSeen.then(() => route.continue()), { times: 1 })
    await press('Sheet')
    await page.getByText('Writing the sheet').waitFor()
    goOn()
    await page.getByRole('link', { name: 'Open sheet.pdf' }).waitFor({ timeout: 60_000 })
    await expect.poll(() => page.getByRole('dialog').count()).toBe(0)

    const bytes = await readFile(join(dir, 'sheet.pdf'))
    await press('Sheet on Letter, masked')
    await how.getByLabel('plates, boards and charts').uncheck()
    await press('Write the sheet')
    const more = page.getByRole('dialog', { name: 'Write a sheet that shows more?' })
    await more
      .getByText('The sheet that was there is masked, this one shows plates, boards and charts.')
      .waitFor()
    expect(await axeViolations(page)).toEqual([])
    await press('Keep the masked sheet')
    expect(await readFile(join(dir, 'sheet.pdf'))).toEqual(bytes)
    await press('Sheet on Letter, masked')
    await how.getByLabel('plates, boards and charts').uncheck()
    await press('Write the sheet')
    await more.waitFor()
    await press('Write it so')
    await page.getByRole('link', { name: 'Open sheet.pdf' }).waitFor({ timeout: 60_000 })
    await page.getByRole('button', { name: 'Sheet on Letter', exact: true }).waitFor()
    expect(await masked()).toBe(false)
    expect(faults).toEqual([])
  })
})
