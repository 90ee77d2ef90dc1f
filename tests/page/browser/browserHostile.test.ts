import { readFile, rename } from 'node:fs/promises'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { boardStill, put } from '../../journeys/smallWalk.js'
import { temporaryHome } from '../../journeys/temporaryHome.js'
import { browserForTests } from '../browserForTests.js'
import { HAS_CHROMIUM, openPage } from '../openPage.js'

/** What would run, load or change the page if it were taken for more than text; `struck` tells whether any did. No slash, so that each is a name of a file too. */
const HOSTILE = [
  '<img src=x onerror=window.struck=1>',
  '<svg onload=window.struck=1>',
  '<script>window.struck=1<script>',
  '"><img src=x onerror="window.struck=1',
  "' autofocus onfocus='window.struck=1",
  '<iframe srcdoc="<script>parent.struck=1<script>">',
  '<style>@import "x"; #page { display: none }<style>',
  '<base href="http:example.test">',
  '<meta http-equiv=refresh content="0;url=x">',
  '<form action=x><button>Measure all',
  'javascript:window.struck=1',
  '{{window.struck=1}}',
  '${window.struck=1}',
  '&lt;img src=x onerror=window.struck=1&gt;',
] as const

describe.skipIf(!HAS_CHROMIUM)(
  'names and texts that would be scripts (skipped only where there is no /usr/bin/chromium)',
  () => {
    const home = temporaryHome()
    const chromium = browserForTests()

    test('are shown as they are written, and none runs, loads or changes the page', async () => {
      const dir = await home.freshWalk('hostile-page')
      const bytes = await boardStill(6, 'jpeg', 6)
      for (const text of HOSTILE) await put(dir, `stills/${text}.jpg`, bytes)
      await rename(join(dir, 'stills/day/9m.jpg'), join(dir, 'stills/day', `9m-${HOSTILE[0]}.jpg`))
      const yaml = await readFile(join(dir, 'walk.yaml'), 'utf8')
      const quoted = (index: number): string => JSON.stringify(HOSTILE[index])
      const hostile = yaml
        .replace('Net loft', () => quoted(0))
        .replace('Loft camera', () => `${quoted(3)}\n  settings: ${quoted(2)}`)
        .concat(`notes: ${quoted(1)}\npeople: { client: ${quoted(5)} }\nstills:\n`)
        .concat(`  - { file: ${JSON.stringify(`stills/${HOSTILE[4]}.jpg`)}, mark: 4 m, light: day }\n`)
      await put(dir, 'walk.yaml', hostile)
      const pick = await chromium.start(dir)
      const { page, faults } = await openPage(chromium.browser, pick.address)
      const dialogs: string[] = []
      page.on('dialog', (dialog) => (dialogs.push(dialog.message()), void dialog.dismiss()))
      const asked: string[] = []
      page.on('request', (request) => void asked.push(new URL(request.url()).pathname))
      const foreign =
        '#page :is(script, iframe, style, base, meta, svg[onload], [onfocus], form:not([class]), img:not([draggable]))'
      const nothingForeign = async (): Promise<void> =>
        expect(await page.locator(foreign).evaluateAll((all) => all.map((one) => one.outerHTML))).toEqual([])
      await page.locator('.strip-item').nth(HOSTILE.length).waitFor()
      for (const text of HOSTILE.slice(0, 4)) {
        await page.locator('.strip-item').filter({ hasText: text }).first().click()
        await page.getByRole('heading', { name: text }).waitFor()
        await nothingForeign()
      }
      const shown = await page.locator('#page').innerHTML()
      for (const text of HOSTILE) expect(shown).toContain(escapedOf(text))

      // A fault of walk.yaml quotes what stands there.
      await put(dir, 'walk.yaml', `${hostile}${JSON.stringify(HOSTILE[0])}: 1\ngrading: ${quoted(1)}\n`)
      await page.getByText('is not a known key').first().waitFor()
      await put(dir, 'walk.yaml', hostile)
      await page.getByText('is not a known key').first().waitFor({ state: 'hidden' })

      expect(await page.evaluate('window.struck')).toBeUndefined()
      expect(dialogs).toEqual([])
      expect(faults).toEqual([])
      expect(asked).not.toContain('/x')
      await nothingForeign()
    })
  },
)

/** As a browser writes a text out again. */
function escapedOf(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;')
}
