import { moduleM } from '../../../src/chart/printed/chartGeometry.js'
import { chartPaper } from '../../../src/chart/printed/chartPapers.js'
import { jacobianAt } from '../../../src/math/homography.js'
import { seededRandom } from '../../../src/math/random.js'
import { measureChart } from '../../../src/measure/chart/measureChart.js'
import { chartPdf } from '../../../src/sheet/chart/chartPdf.js'
import { planTiles, TILE_OVERLAP_M } from '../../../src/sheet/chart/chartTiles.js'
import { expectNear } from '../../nearly.js'
import { hasPoppler } from '../poppler.js'
import { DAY, takeChartStill } from '../../support/chartStill.js'
import { findChart } from '../../support/findChart.js'
import { execFileSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, it } from 'vitest'

const dir = mkdtempSync(join(tmpdir(), 'chart-'))
afterAll(() => rmSync(dir, { recursive: true, force: true }))

async function written(id: string, tile: string | null, dim: boolean): Promise<string> {
  const file = join(dir, `${id}-${tile}-${dim}.pdf`)
  writeFileSync(
    file,
    await chartPdf({ paper: chartPaper(id)!, tile: tile === null ? null : chartPaper(tile)!, dim }),
  )
  return file
}

/** A page as poppler draws it: grey 0..255, row by row. */
function rasterised(file: string, dpi: number): { width: number; height: number; data: Uint8Array } {
  const pgm = execFileSync('pdftoppm', ['-r', String(dpi), '-gray', '-f', '1', '-l', '1', file], {
    maxBuffer: 1e9,
  })
  const head = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(pgm.subarray(0, 40).toString('latin1'))!
  return { width: Number(head[1]), height: Number(head[2]), data: pgm.subarray(head[0].length) }
}

it('the printed chart is the same file every time', async () => {
  const options = { paper: chartPaper('A3')!, tile: null, dim: true }
  expect(Buffer.from(await chartPdf(options)).equals(Buffer.from(await chartPdf(options)))).toBe(true)
})

describe.skipIf(!hasPoppler())('the printed chart (skipped only where poppler is not installed)', () => {
  it('is true to scale within 0.1 mm: the frame as poppler draws it at 600 dpi', async () => {
    const page = rasterised(await written('A4', null, false), 600)
    // Across the frame above the light half, and down through the dark half's right border.
    const module = (0.021 / 0.0254) * 600
    const row = Math.round((page.height - 10 * module) / 2 + 1.8 * module)
    const column = Math.round((page.width - 14 * module) / 2 + 12.2 * module)
    let [across, down] = [0, 0]
    for (let x = 0; x < page.width; x += 1) across += 1 - page.data[row * page.width + x]! / 255
    for (let y = 0; y < page.height; y += 1) down += 1 - page.data[y * page.width + column]! / 255
    expectNear((across / 600) * 25.4, 11.6 * 21, { abs: 0.1 }, 'frame width, mm')
    expectNear((down / 600) * 25.4, 7.6 * 21, { abs: 0.1 }, 'frame height, mm')
  })

  it('has a scale bar as long as it says, to 0.1 mm: the middles of its end ticks as poppler draws them', async () => {
    const page = rasterised(await written('A4', null, false), 600)
    const perMm = 600 / 25.4
    // the lettered edge at the foot, left of the advice
    const [top, right] = [Math.round(page.height - 0.6 * 21 * perMm), Math.round(115 * perMm)]
    const inkOf = (x: number): number => {
      let ink = 0
      for (let y = top; y < page.height; y += 1) ink += 1 - page.data[y * page.width + x]! / 255
      return ink
    }
    const columns = Array.from({ length: right }, (_, x) => inkOf(x))
    const tall = 0.8 * Math.max(...columns)
    const ticks: number[][] = []
    columns.forEach((ink, x) => {
      if (ink < tall) return
      if (x - (ticks.at(-1)?.at(-1) ?? -Infinity) > 2) ticks.push([])
      ticks.at(-1)!.push(x)
    })
    expect(ticks).toHaveLength(2)
    const [first, last] = ticks.map((tick) => (tick[0]! + tick.at(-1)!) / 2)
    expectNear((last! - first!) / perMm, 100, { abs: 0.1 }, 'scale bar, mm')
    const words = execFileSync('pdftotext', [join(dir, 'A4-null-false.pdf'), '-']).toString()
    expect(words).toContain('100 mm between the long ticks')
  })

  it('has the page of its paper, all fonts embedded, and says what must be minded', async () => {
    const file = await written('Letter', null, false)
    expect(execFileSync('pdfinfo', [file]).toString()).toMatch(/Page size:\s+792 x 612 pts/)
    const fonts = execFileSync('pdffonts', [file]).toString().trim().split('\n').slice(2)
    expect(fonts.length).toBeGreaterThan(0)
    for (const font of fonts) expect(font).toMatch(/\syes\s+(yes|no)\s+(yes|no)\s+\d+\s+\d+$/)
    const text = execFileSync('pdftotext', ['-layout', file, '-']).toString()
    for (const words of [
      'Letter paper',
      '100 % scale',
      'Matte paper',
      'flat board',
      'many inks vanish',
      'Check at 2 m',
    ])
      expect(text).toContain(words)
  })

  it('prints grey for white in the dim variant', async () => {
    const page = rasterised(await written('A5', null, true), 100)
    expectNear(page.data[Math.round(0.5 * page.height) * page.width + 20]!, 127.5, { abs: 3 })
  })

  it('cuts large charts into tiles that cover the sheet and overlap', async () => {
    const [sheet, page] = [chartPaper('A2')!, chartPaper('A4')!]
    const plan = planTiles(sheet, page)
    const last = plan.tiles.at(-1)!
    expect(plan.tiles[0]!.leftM).toBeLessThanOrEqual(0)
    expect(plan.tiles[0]!.topM).toBeLessThanOrEqual(0)
    expect(last.leftM + plan.windowWidthM).toBeGreaterThanOrEqual(sheet.widthM)
    expect(last.topM + plan.windowHeightM).toBeGreaterThanOrEqual(sheet.heightM)
    expectNear(
      plan.tiles[0]!.leftM + plan.windowWidthM - plan.tiles[1]!.leftM,
      TILE_OVERLAP_M,
      { abs: 1e-9 },
      'overlap',
    )
    const info = execFileSync('pdfinfo', [await written('A2', 'A4', false)]).toString()
    expect(info).toMatch(new RegExp(`Pages:\\s+${plan.tiles.length}\\n`))
  })

  it('closes the loop: the page as poppler draws it at 600 dpi, before the camera, is found and measured', async () => {
    const paper = chartPaper('A5')!
    const page = rasterised(await written('A5', null, false), 600)
    const stride = page.width + 1
    const sums = new Float64Array(stride * (page.height + 1))
    for (let y = 0; y < page.height; y += 1) {
      let sum = 0
      for (let x = 0; x < page.width; x += 1) {
        sum += page.data[y * page.width + x]! / 255
        sums[(y + 1) * stride + x + 1] = sums[y * stride + x + 1]! + sum
      }
    }
    const [perX, perY] = [page.width / paper.widthM, page.height / paper.heightM]
    const reflectance = (u: number, v: number, width: number, height: number): number => {
      const clamp = (value: number, most: number): number => Math.min(most, Math.max(0, Math.round(value)))
      const left = clamp((u - width / 2 + paper.widthM / 2) * perX, page.width - 1)
      const right = Math.max(left + 1, clamp((u + width / 2 + paper.widthM / 2) * perX, page.width))
      const top = clamp((v - height / 2 + paper.heightM / 2) * perY, page.height - 1)
      const bottom = Math.max(top + 1, clamp((v + height / 2 + paper.heightM / 2) * perY, page.height))
      const at = (x: number, y: number): number => sums[y * stride + x]!
      return (
        (at(right, bottom) - at(left, bottom) - at(right, top) + at(left, top)) /
        ((right - left) * (bottom - top))
      )
    }
    const random = seededRandom(21)
    // by day: half a percent from 2 px a module on, a tenth from 3
    for (const [p, tolerance] of [
      [2.5, 0.005],
      [6, 0.001],
    ] as const) {
      const view = { paper, pixelsPerModule: p, yawDeg: 18, pitchDeg: -5, rollDeg: 6, wide: false }
      const still = await takeChartStill(view, DAY, random, { reflectance })
      const found = findChart(still.image)
      expect(found.ok).toBe(true)
      if (!found.ok) continue
      const measured = measureChart(still.image, found.value, paper)
      expect(measured.ok).toBe(true)
      if (!measured.ok) continue
      const { alongX, alongY } = jacobianAt(measured.value.fit.map, 7, 5)
      const across = Math.hypot(...alongX) / moduleM(paper) / still.truth.horizontalPxPerM - 1
      const down = Math.hypot(...alongY) / moduleM(paper) / still.truth.verticalPxPerM - 1
      console.log(
        `printed page at ${p} px a module: ${(100 * across).toFixed(3)} %, ${(100 * down).toFixed(3)} %`,
      )
      expectNear(across, 0, { abs: tolerance })
      expectNear(down, 0, { abs: tolerance })
      expect(found.value.faceSure && found.value.face).toBe(paper.face)
      expect(measured.value.pick.method).toBe('found')
    }
    expect(readFileSync(join(dir, 'A5-null-false.pdf')).length).toBeGreaterThan(1000)
  })
})
