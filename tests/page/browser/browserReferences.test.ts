import { readFile } from 'node:fs/promises'

import sharp from 'sharp'
import { describe, expect, test } from 'vitest'
import { chartPaper } from '../../../src/chart/printed/chartPapers.js'
import { resultsSchema } from '../../../src/walk/schemas/resultsSchema.js'
import { boardCorners, boardStill } from '../../journeys/smallWalk.js'
import { temporaryHome } from '../../journeys/temporaryHome.js'
import { expectNear } from '../../nearly.js'
import { chartAt, takeScene } from '../../walk/chartScene.js'
import { browserForTests } from '../browserForTests.js'
import { pageOfStill } from '../pageOfStill.js'
import { clickPoints, HAS_CHROMIUM, isSaved, onScreen } from '../openPage.js'

const STILL = 'stills/day/6m.jpg'

const walkYaml = (width: number, height: number, references: string): string => `site: Reed pond
date: 2026-05-02
camera:
  name: Pond camera
  image: { width: ${width}, height: ${height} }
references:
  ${references}
marks: [6 m]
lights: [day]
`

describe.skipIf(!HAS_CHROMIUM)(
  'references of every kind on the page (skipped only where there is no /usr/bin/chromium)',
  () => {
    const home = temporaryHome()
    const chromium = browserForTests()

    const pageOf = (name: string, yaml: string, still: Uint8Array) =>
      pageOfStill(home, chromium, { name, yaml, file: STILL, still })

    test('a chart is found without a click, told where it is, and measured to the truth', async () => {
      const scene = await takeScene([chartAt(chartPaper('A2')!, 6)])
      const yaml = walkYaml(960, 720, 'chart: { chart: A2, printedWidth: 487.2 mm }')
      const { dir, page, faults } = await pageOf('chart', yaml, scene.bytes)
      await page.getByText('The chart was found here: nothing to do.').waitFor({ timeout: 30_000 })
      await page.locator('.strip-item[data-state=chart]').waitFor()
      expect(await page.locator('.handle').count()).toBe(0)
      const corners = await page.evaluate<[number, number][]>(
        `fetch('/api/walk', { headers: { 'X-Session': sessionStorage.getItem('proofwalk-session') } }).then((answer) => answer.json()).then(({ stills }) => stills[0].chart?.corners ?? null)`,
      )
      corners.forEach(([x, y], i) => {
        expectNear(x, scene.truth.corners[i]![0], { abs: 0.2 }, `corner ${i + 1} across`)
        expectNear(y, scene.truth.corners[i]![1], { abs: 0.2 }, `corner ${i + 1} down`)
      })
      await page.getByRole('button', { name: 'Measure all' }).click()
      await page.keyboard.press('w')
      await page.getByText('results.json holds what stands here').waitFor({ timeout: 60_000 })
      const results = resultsSchema.parse(JSON.parse(await readFile(`${dir}/results.json`, 'utf8')))
      const [entry] = results.stills
      expect(entry!.method).toBe('chart')
      const truth = Math.min(scene.truth.horizontalPxPerM, scene.truth.verticalPxPerM)
      expect(entry!.density.low).toBeLessThan(truth)
      expect(entry!.density.high).toBeGreaterThan(truth)
      expect(faults).toEqual([])
    })

    test('the ends of a staff take two clicks, and its density shows at once', async () => {
      const yaml = walkYaml(1280, 720, 'staff: { length: 600 mm, tolerance: 1 mm }')
      const { dir, page } = await pageOf('staff', yaml, await boardStill(6, 'jpeg'))
      const ends = boardCorners(6).slice(0, 2)
      await page.getByText('Click one end of the staff.').waitFor()
      await clickPoints(page, [ends[0]!])
      await page.getByText('Now the other end of the staff.').waitFor()
      await clickPoints(page, [ends[1]!])
      await page.getByRole('button', { name: /^End 2/ }).waitFor()
      const shown = Number(await page.locator('.density-value').getAttribute('data-value'))
      expectNear(shown, 200, { rel: 0.02 }, 'the camera has 200 px/m at 6 m; clicked to a screen px')
      await isSaved(page)
      const picks = JSON.parse(await readFile(`${dir}/picks.json`, 'utf8')) as {
        stills: Record<string, { ends: [number, number][] }>
      }
      picks.stills[STILL]!.ends.forEach(([x, y], i) => {
        expectNear(x, ends[i]![0], { abs: 1.5 }, `end ${i + 1} across`)
        expectNear(y, ends[i]![1], { abs: 1.5 }, `end ${i + 1} down`)
      })
    })

    test('a still of forty megapixels is drawn pixel for pixel where it is looked at closely', async () => {
      const [width, height] = [7680, 5216]
      const square = { left: 6101, top: 4301, side: 15 }
      const yaml = walkYaml(width, height, 'board: { width: 600 mm, height: 400 mm }')
      const { page } = await pageOf('large', yaml, await squareStill(width, height, square))
      const middle = [square.left + square.side / 2, square.top + square.side / 2] as const
      await page.mouse.move(...(await onScreen(page, middle)))
      const scaleOf = async () =>
        Number((await page.locator('.desk-box').getAttribute('data-window'))!.split(' ')[0])
      while ((await scaleOf()) < 4) await page.mouse.wheel(0, -400)
      const seen = async () => {
        const [x, y] = await onScreen(page, middle)
        const scale = await scaleOf()
        const at = JSON.stringify({ x, y, off: (square.side / 2 + 0.5) * scale })
        return page.evaluate<[number, number, number][]>(`(${READ_CANVAS})(${at})`)
      }
      // The middle is light; the first pixel beyond each side is dark.
      await expect
        .poll(async () => (await seen()).map(([red]) => red > 128), { timeout: 20_000 })
        .toEqual([true, false, false, false, false])
      const wide = (await seen()).map(([red]) => red)
      expectNear(wide[0]!, 240, { abs: 2 }, 'its own pixels, losslessly')
      for (const red of wide.slice(1)) expectNear(red, 30, { abs: 2 }, 'its own pixels, losslessly')
    })
  },
)

/** Colours of the large still's canvas at a place on the screen and `off` to its left, right, top and bottom, CSS px. */
const READ_CANVAS = `({ x, y, off }) => {
  const canvas = document.querySelector('.desk-canvas')
  const box = canvas.getBoundingClientRect()
  const at = (px, py) => [...canvas.getContext('2d').getImageData(px - box.left, py - box.top, 1, 1).data].slice(0, 3)
  return [at(x, y), at(x - off, y), at(x + off, y), at(x, y - off), at(x, y + off)]
}`

/** A dark PNG with one light square. */
async function squareStill(
  width: number,
  height: number,
  { left, top, side }: { readonly left: number; readonly top: number; readonly side: number },
): Promise<Buffer> {
  const pixels = Buffer.alloc(width * height, 30)
  for (let y = top; y < top + side; y += 1) pixels.fill(240, y * width + left, y * width + left + side)
  return sharp(pixels, { raw: { width, height, channels: 1 } })
    .png({ compressionLevel: 1 })
    .toBuffer()
}
