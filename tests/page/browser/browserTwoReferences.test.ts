import { createHash } from 'node:crypto'
import { readFile, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import sharp from 'sharp'
import { describe, expect, test } from 'vitest'
import { chartPaper } from '../../../src/chart/printed/chartPapers.js'
import type { PickEntry } from '../../../src/walk/schemas/picksSchema.js'
import { resultsSchema, type WalkResults } from '../../../src/walk/schemas/resultsSchema.js'
import { boardCorners, boardStill, panelCorners, SMALL_WALK_PX_PER_RAD } from '../../journeys/smallWalk.js'
import { runCommand } from '../../cli/recordingTerminal.js'
import { temporaryHome } from '../../journeys/temporaryHome.js'
import { chartAt, plateAt, takeScene } from '../../walk/chartScene.js'
import { browserForTests } from '../browserForTests.js'
import { pageOfStill } from '../pageOfStill.js'
import { clickPoints, HAS_CHROMIUM, isSaved, type OpenPage, PLACES } from '../openPage.js'

const STILL = 'stills/day/6m.jpg'

const walkYaml = (width: number, height: number, references: readonly string[]): string => `site: Reed pond
date: 2026-05-02
camera:
  name: Pond camera
  image: { width: ${width}, height: ${height} }
references:
  ${references.join('\n  ')}
marks: [6 m]
lights: [day]
`

describe.skipIf(!HAS_CHROMIUM).each(PLACES)(
  'several references in one still %s (skipped only where there is no /usr/bin/chromium)',
  (_, place) => {
    const home = temporaryHome()
    const chromium = browserForTests()

    const pageOf = (name: string, yaml: string, still: Uint8Array) =>
      pageOfStill(home, chromium, { name, yaml, file: STILL, still }, place)

    async function boardAndPanel(name: string): Promise<OpenPage & { dir: string }> {
      const [[left, top], , [right, bottom]] = panelCorners(6)
      const panel = `<svg xmlns="http://www.w3.org/2000/svg" width="1280" height="720"><rect x="${left}" y="${top}" width="${right - left}" height="${bottom - top}" fill="#ddd"/></svg>`
      const bytes = await sharp(await boardStill(6, 'png'))
        .composite([{ input: Buffer.from(panel) }])
        .jpeg({ quality: 95 })
        .toBuffer()
      const references = [
        'board: { width: 600 mm, height: 400 mm }',
        'panel: { width: 300 mm, height: 100 mm }',
      ]
      return pageOf(name, walkYaml(1280, 720, references), bytes)
    }

    test('both are picked on the page, each keeps its points, both are measured and judged with one hash, and verify agrees', async () => {
      const { dir, page, faults } = await boardAndPanel('both')
      const turnTo = (name: string | RegExp) =>
        page.getByRole('group', { name: 'Reference' }).getByRole('button', { name }).click()
      await turnTo('board')
      await clickPoints(page, boardCorners(6))
      await page.getByText('Placed by hand.').waitFor()
      await isSaved(page)
      const [a, b, c, d] = panelCorners(6)
      await turnTo('panel')
      await expect.poll(() => page.locator('.handle').count()).toBe(0)
      await clickPoints(page, [a, c])
      // What is begun of one does not show on the other, and stays.
      await page.getByText(/^(Dashed: fitted|No fit)/).waitFor()
      await turnTo('board, picked')
      await expect.poll(() => page.locator('.handle').count()).toBe(4)
      await turnTo('panel, begun')
      await expect.poll(() => page.locator('.handle').count()).toBe(2)
      await clickPoints(page, [b, d])
      await page.getByRole('option', { name: /^6 m day 2 picked by hand/ }).waitFor()
      await isSaved(page)
      const held = await picksIn(dir)
      expect(held.map(({ reference }) => reference)).toEqual(['board', 'panel'])
      for (const [i, corners] of [boardCorners(6), panelCorners(6)].entries())
        corners.forEach(([x, y], corner) => {
          const [u, v] = held[i]!.corners![corner]!
          expect(Math.hypot(u - x, v - y), `${held[i]!.reference} corner ${corner + 1}`).toBeLessThan(2)
        })
      // Undo takes back what was done last, on the reference it was done on.
      await page.keyboard.press('Control+z')
      await isSaved(page)
      expect((await picksIn(dir)).map(({ reference }) => reference)).toEqual(['board'])
      await page.keyboard.press('Control+y')
      await isSaved(page)
      expect(await picksIn(dir)).toEqual(held)

      await page.getByRole('button', { name: 'Measure all' }).click()
      await page.keyboard.press('w')
      await page.getByText('results.json holds what stands here').waitFor({ timeout: 60_000 })
      const { stills, marks } = await resultsIn(dir)
      const sha256 = createHash('sha256')
        .update(await readFile(join(dir, STILL)))
        .digest('hex')
      expect(stills.map(({ file, reference, sha256: of }) => [file, reference, of])).toEqual([
        [STILL, 'board', sha256],
        [STILL, 'panel', sha256],
      ])
      expect(marks.map(({ reference }) => reference).sort()).toEqual(['board', 'panel'])
      for (const { density } of stills) {
        expect(density.low).toBeLessThan(SMALL_WALK_PX_PER_RAD / 6)
        expect(density.high).toBeGreaterThan(SMALL_WALK_PX_PER_RAD / 6)
      }
      const before = await readFile(join(dir, 'results.json'), 'utf8')
      expect((await runCommand('measure', dir)).status).toBe(0)
      expect(await readFile(join(dir, 'results.json'), 'utf8')).toBe(before)
      expect((await runCommand('sheet', dir)).status).toBe(0)
      for (const target of [dir, join(dir, 'sheet.pdf')])
        expect((await runCommand('verify', target)).status).toBe(0)
      expect(faults).toEqual([])
    })

    test('the chart is found in a still before and after a plate beside it is picked', async () => {
      const chart = chartAt(chartPaper('A2')!, 6)
      const plate = { ...plateAt(6), offM: 0.1, upM: -0.35 }
      const [{ bytes, truth }, { truth: plateTruth }] = [
        await takeScene([chart, plate]),
        await takeScene([plate]),
      ]
      const references = ['plate: { preset: plate-eu }', 'chart: { chart: A2, printedWidth: 487.2 mm }']
      const { dir, page } = await pageOf('chart', walkYaml(960, 720, references), bytes)
      await page.getByText('The chart was found here: nothing to do.').waitFor({ timeout: 30_000 })
      await page.getByRole('button', { name: 'plate', exact: true }).click()
      await page.getByRole('button', { name: 'I do not know' }).click()
      await clickPoints(page, plateTruth.corners)
      await page.getByText('Placed by hand.').waitFor()
      await isSaved(page)
      await page.getByRole('button', { name: 'chart, found' }).waitFor({ timeout: 30_000 })
      await page.getByRole('option', { name: /^6 m day 2 picked by hand/ }).waitFor({ timeout: 30_000 })
      await page.getByRole('button', { name: 'chart, found' }).click()
      await page.locator('.density-value').waitFor()
      await page.getByRole('button', { name: 'Measure all' }).click()
      await page.keyboard.press('w')
      await page.getByText('results.json holds what stands here').waitFor({ timeout: 60_000 })
      const { stills } = await resultsIn(dir)
      expect(stills.map(({ reference, method }) => [reference, method]).sort()).toEqual([
        ['chart', 'chart'],
        ['plate', 'picks'],
      ])
      for (const { reference, density } of stills) {
        const { horizontalPxPerM, verticalPxPerM } = reference === 'chart' ? truth : plateTruth
        expect(density.low, reference).toBeLessThan(Math.min(horizontalPxPerM, verticalPxPerM))
        expect(density.high, reference).toBeGreaterThan(Math.min(horizontalPxPerM, verticalPxPerM))
      }
    })

    test('a reference renamed in walk.yaml while the page is open takes its picks to no other: they are kept, and asked about', async () => {
      const { dir, page } = await boardAndPanel('renamed')
      await page.getByRole('button', { name: 'board', exact: true }).click()
      await clickPoints(page, boardCorners(6))
      await isSaved(page)
      const yaml = await readFile(join(dir, 'walk.yaml'), 'utf8')
      await writeFile(join(dir, 'walk.yaml'), yaml.replace('board:', 'white board:'))
      await page.getByText('Picked on board, which walk.yaml no longer has').waitFor()
      await page.getByText('1 still, 1 to do').waitFor({ state: 'attached' })
      await page.locator('.density-value').waitFor({ state: 'detached' })
      expect((await picksIn(dir)).map(({ reference }) => reference)).toEqual(['board'])
      await page.getByRole('button', { name: 'white board', exact: true }).click()
      await page.locator('.density-value').waitFor()
      await isSaved(page)
      expect((await picksIn(dir)).map(({ reference }) => reference)).toEqual(['white board'])
      await page.getByRole('option', { name: /^6 m day picked by hand/ }).waitFor()
    })
  },
)

async function picksIn(dir: string): Promise<PickEntry[]> {
  const text = await readFile(join(dir, 'picks.json'), 'utf8')
  return [
    (JSON.parse(text) as { stills: Record<string, PickEntry | PickEntry[]> }).stills[STILL] ?? [],
  ].flat()
}

async function resultsIn(dir: string): Promise<WalkResults> {
  return resultsSchema.parse(JSON.parse(await readFile(join(dir, 'results.json'), 'utf8')))
}
