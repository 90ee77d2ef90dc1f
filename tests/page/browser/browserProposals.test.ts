import { readFile, rename, rm, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import sharp from 'sharp'
import { describe, expect, test } from 'vitest'
import { seededRandom } from '../../../src/math/random.js'
import type { Quad } from '../../../src/math/point.js'
import { resultsSchema } from '../../../src/walk/schemas/resultsSchema.js'
import { boardCorners, boardStill, put } from '../../journeys/smallWalk.js'
import { temporaryHome } from '../../journeys/temporaryHome.js'
import { photographOutline, plateScene, rimLine } from '../../measure/outlineScene.js'
import { axeViolations } from '../axeViolations.js'
import { browserForTests } from '../browserForTests.js'
import {
  clickPoints,
  HAS_CHROMIUM,
  isDrawn,
  isSaved,
  onScreen,
  type OpenPage,
  openPage,
  PLACES,
  TABLET,
  WIDE,
} from '../openPage.js'

const NEAR = 'stills/day/4m.jpg'

describe.skipIf(!HAS_CHROMIUM)(
  'a proposal is no pick (skipped only where there is no /usr/bin/chromium)',
  () => {
    const home = temporaryHome()
    const chromium = browserForTests()

    async function freshPage(name: string, options = WIDE): Promise<OpenPage & { dir: string }> {
      const dir = await home.freshWalk(name)
      await rm(join(dir, 'picks.json'))
      const pick = await chromium.start(dir)
      const opened = await openPage(chromium.browser, pick.address, options)
      await isDrawn(opened.page, NEAR)
      return { dir, ...opened }
    }

    /** The page of a walk with a plate in one still, of whose border nobody said anything. */
    async function platePage(
      name: string,
      bytes: Buffer,
      options = WIDE,
    ): Promise<OpenPage & { dir: string }> {
      const dir = home.path(name)
      await rm(dir, { recursive: true, force: true })
      await put(dir, NEAR, bytes)
      await put(dir, 'walk.yaml', PLATE_WALK)
      const pick = await chromium.start(dir)
      const opened = await openPage(chromium.browser, pick.address, options)
      await isDrawn(opened.page, NEAR)
      return { dir, ...opened }
    }

    test('two corners are a proposal without a figure: neither Next nor leaving it takes anything, and the strip and the walk say so', async () => {
      const { dir, page, faults } = await freshPage('next')
      const [a, b, c, d] = boardCorners(4)
      await clickPoints(page, [a!, c!])
      await isFitted(page)
      await expect.poll(() => page.locator('.density-value').count()).toBe(0)
      await page.getByText('Begun, not picked').waitFor()
      await page.getByRole('button', { name: 'Next' }).click()
      await isDrawn(page, 'stills/day/6m.jpg')
      await page.getByRole('option', { name: /^4 m day begun, 2 placed/ }).waitFor()
      await page.getByText('1 begun').waitFor()
      await page.keyboard.press('w')
      await page.getByRole('button', { name: 'to pick, begun' }).click()
      await isDrawn(page, NEAR)
      expect(await picksIn(dir)).toEqual({})
      // What was placed is still there: the other two, in whatever order, make it a pick.
      await clickPoints(page, [b!, d!])
      await page.locator('.density-value').waitFor()
      await isSaved(page)
      const pick = (await picksIn(dir))[NEAR]!
      expect(pick.method).toBe('hand')
      boardCorners(4).forEach(([x, y], i) => {
        expect(Math.hypot(pick.corners[i]![0] - x, pick.corners[i]![1] - y), `corner ${i + 1}`).toBeLessThan(
          2,
        )
      })
      expect(pick.sigma).toBeGreaterThan(0.5)
      await page.getByRole('option', { name: /^4 m day picked by hand/ }).waitFor()
      expect(faults).toEqual([])
    })

    test('the fitted outline is a pick only once it is taken; the last corner placed is taken back by Escape and by undo', async () => {
      const { dir, page } = await freshPage('taken')
      await clickPoints(page, [boardCorners(4)[0]!, boardCorners(4)[2]!])
      await isFitted(page)
      await page.keyboard.press('Escape')
      await page.getByText('Proposed from 2 corners, not picked').waitFor()
      await page.keyboard.press('Control+z')
      await page.getByText('Now the opposite corner.').waitFor()
      await page.keyboard.press('Escape')
      await page.getByText('Click a corner of the light rectangle').waitFor()
      await clickPoints(page, [boardCorners(4)[1]!, boardCorners(4)[3]!])
      await isFitted(page)
      expect(await picksIn(dir)).toEqual({})
      await page.keyboard.press('Enter')
      await isDrawn(page, 'stills/day/6m.jpg')
      await isSaved(page)
      const pick = (await picksIn(dir))[NEAR]!
      expect([pick.method, pick.doubts]).toEqual(['snapped', undefined])
      await page.getByRole('option', { name: /^4 m day picked, fitted/ }).waitFor()
    })

    test('a finger that rests holds a loupe above it, before anything is placed, and places as well as a mouse', async () => {
      const { dir, page } = await freshPage('loupe', TABLET)
      const scale = Number((await page.locator('.desk-box').getAttribute('data-window'))!.split(' ')[0])
      const inLoupe = Math.min(11, (5 / 0.6) * scale)
      const session = await page.context().newCDPSession(page)
      const touch = (type: 'touchStart' | 'touchMove' | 'touchEnd', places: { x: number; y: number }[]) =>
        session.send('Input.dispatchTouchEvent', { type, touchPoints: places })
      const loupe = page.locator('.loupe')
      for (const [index, corner] of boardCorners(4).entries()) {
        const [x, y] = await onScreen(page, corner)
        // It lies beside the corner, and goes to it in the loupe.
        const [offX, offY] = [6, -5]
        await touch('touchStart', [{ x: x + offX, y: y + offY }])
        await page.locator('.loupe[data-side=finger]').waitFor()
        await expect.poll(() => page.locator('.handle').count()).toBe(index)
        const over = (await loupe.boundingBox())!
        const isOver = x >= over.x && x <= over.x + over.width && y >= over.y && y <= over.y + over.height
        expect(isOver, 'the loupe hides the corner').toBe(false)
        const to = { x: x + offX - (offX / scale) * inLoupe, y: y + offY - (offY / scale) * inLoupe }
        await touch('touchMove', [to])
        await touch('touchEnd', [])
        await page.locator('.handle').nth(index).waitFor({ state: 'attached' })
      }
      await page.locator('.density-value').waitFor()
      await isSaved(page)
      const pick = (await picksIn(dir))[NEAR]!
      expect(pick.sigma).toBeCloseTo(Math.max(0.5, 5 / inLoupe), 6)
      boardCorners(4).forEach(([x, y], i) => {
        expect(Math.hypot(pick.corners[i]![0] - x, pick.corners[i]![1] - y), `corner ${i + 1}`).toBeLessThan(
          0.5,
        )
      })
      // Held and let go without a pick to make, or taken away by a second finger, it places nothing.
      await touch('touchStart', [{ x: 300, y: 400 }])
      await page.waitForTimeout(600)
      await touch('touchEnd', [])
      expect((await picksIn(dir))[NEAR]).toEqual(pick)
    })

    test('a finger places four corners without a loupe only as well as it can, on a tablet', async () => {
      const { dir, page } = await freshPage('finger', TABLET)
      for (const corner of boardCorners(4)) await page.touchscreen.tap(...(await onScreen(page, corner)))
      await page.locator('.density-value').waitFor()
      await isSaved(page)
      const scale = Number((await page.locator('.desk-box').getAttribute('data-window'))!.split(' ')[0])
      expect((await picksIn(dir))[NEAR]!.sigma).toBeCloseTo(5 / scale, 6)
    })

    test.each(PLACES)(
      '%s many stills are assigned only as shown, several a mark where asked, look assigned so, and go back as one',
      async (_, options) => {
        const dir = await home.freshWalk(`bulk-${options.viewport.width}`)
        await rm(join(dir, 'picks.json'))
        await rm(join(dir, 'stills/day'), { recursive: true })
        for (let i = 1; i <= 6; i++)
          await put(dir, `stills/export-${i}.jpg`, await boardStill(4 + i, 'jpeg', i))
        const pick = await chromium.start(dir)
        const { page } = await openPage(chromium.browser, pick.address, options)
        await isDrawn(page, 'stills/export-1.jpg')
        await page.locator('.strip').focus()
        await page.keyboard.press('Control+a')
        await page.keyboard.press('y')
        const shown = page.getByRole('region', { name: 'What would be assigned' })
        // Six stills for three marks in one light: two a mark is likely, and asked.
        await expect
          .poll(() => shown.locator('dt').allTextContents())
          .toEqual(['4 m', '4 m', '6 m', '6 m', '9 m', '9 m'].map((mark) => `${mark}, day`))
        await page.getByLabel('Stills at one mark').selectOption('1')
        await page.getByText('3 more stay as they are').waitFor()
        await page.getByLabel('Stills at one mark').selectOption('2')
        const yaml = await readFile(join(dir, 'walk.yaml'), 'utf8')
        expect(yaml).not.toContain('export-')
        await page.getByRole('button', { name: 'Assign these' }).click()
        await page.locator('.strip-item[data-suggested=true]').nth(5).waitFor()
        await isSaved(page)
        expect((await readFile(join(dir, 'walk.yaml'), 'utf8')).match(/export-/g)).toHaveLength(6)
        await page.getByRole('button', { name: 'Take back 6 as suggested' }).click()
        await page.locator('.strip-item[data-state=unassigned]').nth(5).waitFor()
        await isSaved(page)
        expect(await readFile(join(dir, 'walk.yaml'), 'utf8')).not.toContain('export-')
      },
    )

    test.each(PLACES)(
      'which of several references a still shows is asked %s, what its name says first; nothing is placed until then',
      async (name, options) => {
        const dir = await home.freshWalk(`which-${options.viewport.width}`)
        await rm(join(dir, 'picks.json'))
        const yaml = await readFile(join(dir, 'walk.yaml'), 'utf8')
        await writeFile(
          join(dir, 'walk.yaml'),
          yaml.replace('references:\n', 'references:\n  panel: { width: 500 mm, height: 300 mm }\n'),
        )
        await rename(join(dir, NEAR), join(dir, 'stills/day/4m-board.jpg'))
        await rename(join(dir, 'stills/day/6m.jpg'), join(dir, 'stills/day/6m-panel.jpg'))
        const pick = await chromium.start(dir)
        const { page } = await openPage(chromium.browser, pick.address, options)
        await isDrawn(page, 'stills/day/4m-board.jpg')
        await page.getByText('Which reference is it?').waitFor()
        const press = async (at: readonly [number, number]): Promise<void> => {
          const [x, y] = await onScreen(page, at)
          await (name.includes('touch') ? page.touchscreen.tap(x, y) : page.mouse.click(x, y))
        }
        await press(boardCorners(4)[0]!)
        const byName = page.getByRole('button', { name: 'board, as its name says' })
        await expect
          .poll(() => page.evaluate('document.activeElement.textContent'))
          .toBe('board, as its name says')
        for (const corner of boardCorners(4)) await press(corner)
        expect(await page.locator('.handle').count()).toBe(0)
        await expect
          .poll(() => page.getByRole('group', { name: 'Reference' }).getByRole('button').allTextContents())
          .toEqual(['board, as its name says', 'panel'])
        await byName.click()
        await expect.poll(() => page.locator('#field-reference').inputValue()).toBe('board')
        await clickPoints(page, boardCorners(4))
        await isSaved(page)
        await page.locator('.density-value').waitFor()
        expect((await picksIn(dir))['stills/day/4m-board.jpg']!.reference).toBe('board')
      },
    )

    test('stills whose names say their reference are given it all at once, after they were shown, and go back as one', async () => {
      const dir = await home.freshWalk('by-names')
      await rm(join(dir, 'picks.json'))
      const yaml = await readFile(join(dir, 'walk.yaml'), 'utf8')
      const both = yaml.replace('references:\n', 'references:\n  panel: { width: 500 mm, height: 300 mm }\n')
      await writeFile(join(dir, 'walk.yaml'), both)
      await rename(join(dir, NEAR), join(dir, 'stills/day/4m-board.jpg'))
      await rename(join(dir, 'stills/day/6m.jpg'), join(dir, 'stills/day/6m-panel.jpg'))
      const pick = await chromium.start(dir)
      const { page, faults } = await openPage(chromium.browser, pick.address, WIDE)
      await isDrawn(page, 'stills/day/4m-board.jpg')
      await page.getByRole('button', { name: 'All 2 as their names say …' }).click()
      const shown = page.getByRole('region', { name: 'What would be assigned' })
      await expect.poll(() => shown.locator('dt').allTextContents()).toEqual(['board', 'panel'])
      await expect.poll(() => axeViolations(page)).toEqual([])
      expect(await readFile(join(dir, 'walk.yaml'), 'utf8')).toBe(both)
      await page.getByRole('button', { name: 'Assign these' }).click()
      await page.locator('.strip-item[data-suggested=true]').nth(1).waitFor()
      await isSaved(page)
      const told = await readFile(join(dir, 'walk.yaml'), 'utf8')
      expect(told).toContain('{ file: stills/day/4m-board.jpg, mark: 4 m, light: day, reference: board }')
      expect(told).toContain('{ file: stills/day/6m-panel.jpg, mark: 6 m, light: day, reference: panel }')
      await page.getByRole('button', { name: 'Take back 2 as suggested' }).click()
      await page.getByText('Which reference is it?').waitFor()
      await isSaved(page)
      expect(await readFile(join(dir, 'walk.yaml'), 'utf8')).not.toContain('-board.jpg')
      expect(faults).toEqual([])
    })

    test('how the edge of a plate is made is asked once with a drawing, kept in walk.yaml, and holds the fit', async () => {
      const { bytes, corners } = await rimmedPlate()
      const { dir, page, faults } = await platePage('border', bytes)
      const asked = page.getByRole('dialog', { name: 'How is the edge of the plate made?' })
      await asked.waitFor()
      await expect.poll(() => asked.locator('svg').count()).toBe(3)
      await expect.poll(() => asked.getByRole('radio', { checked: true }).count()).toBe(0)
      await expect.poll(() => asked.getByRole('button', { name: 'It is so' }).isDisabled()).toBe(true)
      await asked.getByRole('radio', { name: 'A dark border that ends at the rim' }).check()
      await asked.getByLabel('How wide').fill('3')
      await asked.getByRole('button', { name: 'It is so' }).click()
      await asked.getByRole('alert').waitFor()
      expect(await readFile(join(dir, 'walk.yaml'), 'utf8')).toBe(PLATE_WALK)
      await asked.getByLabel('How wide').fill('3 mm')
      await asked.getByRole('button', { name: 'It is so' }).click()
      await asked.waitFor({ state: 'detached' })
      const yaml = await readFile(join(dir, 'walk.yaml'), 'utf8')
      expect(yaml).toBe(PLATE_WALK.replace('characters }', 'characters, border: rim 3 mm }'))
      await clickPoints(page, [corners[0], corners[2]])
      await page.getByText(/^Dashed: fitted to the edges, [\d.]+ px\. Enter/).waitFor()
      await page.keyboard.press('Enter')
      await isSaved(page)
      const saved = (await picksIn(dir))[NEAR]!
      expect([saved.method, saved.doubts]).toEqual(['snapped', undefined])
      const shown = Number(await page.locator('.density-value').getAttribute('data-value'))
      expect(Math.abs(shown / (PLATE_PX / 0.52) - 1)).toBeLessThan(0.02)
      await page.reload()
      await isDrawn(page, NEAR)
      await expect.poll(() => asked.count()).toBe(0)
      expect(faults).toEqual([])
    })

    test.each(PLACES)(
      'where nobody knows how the edge of a plate is made, a pick that shows it suggests it %s, and walk.yaml says where it is from',
      async (_, options) => {
        const { bytes, corners } = await rimmedPlate(0.5)
        const { dir, page, faults } = await platePage(`seen-${options.viewport.width}`, bytes, options)
        await page.getByRole('button', { name: 'I do not know' }).click()
        await clickPoints(page, corners)
        await isSaved(page)
        const asked = page.getByRole('dialog', { name: 'How is the edge of the plate made?' })
        await asked.getByText(`in ${NEAR} a dark line 3 mm wide runs along 4 sides`).waitFor()
        await expect.poll(() => asked.getByRole('radio', { checked: true }).count()).toBe(0)
        await expect.poll(() => axeViolations(page)).toEqual([])
        expect(await readFile(join(dir, 'walk.yaml'), 'utf8')).toBe(PLATE_WALK)
        await asked.getByRole('radio', { name: 'A dark border that ends at the rim' }).check()
        await asked.getByRole('button', { name: 'It is so' }).click()
        await asked.waitFor({ state: 'detached' })
        expect(await readFile(join(dir, 'walk.yaml'), 'utf8')).toBe(
          PLATE_WALK.replace('characters }', `characters, border: rim 3 mm as seen in ${NEAR} }`),
        )
        await page.getByRole('option', { name: /^4 m day picked by hand, border as seen/ }).waitFor()
        await page.getByRole('button', { name: 'Measure all' }).click()
        await page.getByText('Saved and measured').waitFor({ timeout: 60_000 })
        const results = resultsSchema.parse(JSON.parse(await readFile(join(dir, 'results.json'), 'utf8')))
        expect(results.findings.map(({ code }) => code)).toContain('border-seen')
        expect(faults).toEqual([])
      },
    )

    test.each(PLACES)(
      '%s a plate whose dark rim runs into a dark car is taken with its doubt: its other outline is kept, and the interval holds the truth',
      async (_, options) => {
        const { bytes, corners } = await rimmedPlate()
        const { dir, page } = await platePage(`plate-${options.viewport.width}`, bytes, options)
        await page.getByRole('button', { name: 'I do not know' }).click()
        await page.getByRole('button', { name: 'Edge of the plate …' }).waitFor()
        await clickPoints(page, [corners[0], corners[2]])
        await page.getByText(/Dashed: fitted .* Doubtful: .*border along the rim/).waitFor()
        await page.keyboard.press('Enter')
        await isSaved(page)
        await page.getByRole('option', { name: /^4 m day picked, doubted/ }).waitFor()
        const saved = (await picksIn(dir))[NEAR]!
        expect(saved.doubts!.map(({ code }) => code)).toContain('snap-border-unknown')
        await page.getByText('the fit of its outline was doubted').first().waitFor()
        // A nudge does not talk the doubt away.
        await page.getByRole('button', { name: /^Corner top left/ }).focus()
        await page.keyboard.press('Shift+ArrowRight')
        await isSaved(page)
        expect((await picksIn(dir))[NEAR]!.doubts).toEqual(saved.doubts)
        await page.getByRole('button', { name: 'Measure all' }).click()
        await page.keyboard.press('w')
        await page.getByText('results.json holds what stands here').waitFor({ timeout: 60_000 })
        const results = resultsSchema.parse(JSON.parse(await readFile(join(dir, 'results.json'), 'utf8')))
        const { density, problems } = results.stills[0]!
        expect(problems.map(({ code }) => code)).toContain('pick-doubted')
        expect(density.low).toBeLessThan(PLATE_PX / 0.52)
        expect(density.high).toBeGreaterThan(PLATE_PX / 0.52)
      },
    )
  },
)

const PLATE_PX = 160
const PLATE_WALK = `site: Reed pond
date: 2026-05-02
camera: { name: Pond camera, image: { width: 1280, height: 720 } }
references:
  plate: { width: 520 mm, height: 111 mm, marking: characters }
marks: [4 m]
lights: [day]
`

/** A plate of 307 px/m with a dark rim of 3 mm before a dark ground or another, as JPEG. */
async function rimmedPlate(surround = 0.04): Promise<{ bytes: Buffer; corners: Quad }> {
  const random = seededRandom(3)
  const plain = plateScene(PLATE_PX, random, surround)
  const scene = { ...plain, rollRad: 0, parts: [...plain.parts!, ...rimLine(PLATE_PX, 0, 3)] }
  const { raster, corners } = await photographOutline(scene, { noiseCode: 2, quality: 90 }, random)
  const [left, top] = [400, 300]
  const pixels = Buffer.alloc(1280 * 720, 56)
  for (let y = 0; y < raster.height; y++)
    for (let x = 0; x < raster.width; x++)
      pixels[(top + y) * 1280 + left + x] = Math.round(raster.data[y * raster.width + x]!)
  const bytes = await sharp(pixels, { raw: { width: 1280, height: 720, channels: 1 } })
    .jpeg({ quality: 95 })
    .toBuffer()
  return {
    bytes,
    corners: corners.map(([x, y]) => [x - raster.left + left, y - raster.top + top]) as unknown as Quad,
  }
}

async function isFitted(page: Page): Promise<void> {
  await page.getByText(/^(Dashed: fitted|No fit)/).waitFor()
}

interface PickOnDisk {
  readonly reference: string
  readonly corners: [number, number][]
  readonly method: string
  readonly sigma: number
  readonly doubts?: { code: string; corners?: [number, number][] }[]
}

async function picksIn(dir: string): Promise<Record<string, PickOnDisk>> {
  const text = await readFile(join(dir, 'picks.json'), 'utf8').catch(() => '{"stills":{}}')
  return (JSON.parse(text) as { stills: Record<string, PickOnDisk> }).stills
}
