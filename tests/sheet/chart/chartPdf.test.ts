import { moduleM } from '../../../src/chart/printed/chartGeometry.js'
import { chartPaper } from '../../../src/chart/printed/chartPapers.js'
import { barEdges, STRIP_COVERAGE } from '../../../src/chart/printed/stripSheet.js'
import type { Quad } from '../../../src/math/point.js'
import { codeFromLinear } from '../../../src/math/srgb.js'
import { chartReference } from '../../../src/measure/reference/chartReference.js'
import { stripsBeside } from '../../../src/measure/strip/stripsBeside.js'
import { clampRegion, type PixelRegion } from '../../../src/still/raster.js'
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

async function written(id: string, tile: string | null, dim: boolean, strip = false): Promise<string> {
  const file = join(dir, `${id}-${tile}-${dim}${strip ? '-strips' : ''}.pdf`)
  writeFileSync(
    file,
    await chartPdf({ paper: chartPaper(id)!, tile: tile === null ? null : chartPaper(tile)!, dim, strip }),
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

describe.skipIf(!hasPoppler())('the printed strips (skipped only where poppler is not installed)', () => {
  const A4 = chartPaper('A4')!

  it('have their bars where the pattern has them, to 0.1 mm, and faint ones inked by 20 of 48 dots', async () => {
    const { width, data } = rasterised(await written('A4', null, false, true), 600)
    const [perMm, leftMm] = [600 / 25.4, (297 - 14 * 21) / 2]
    const row = Math.round(7 * 21 * perMm)
    const edges = barEdges(A4).map((edge) => leftMm + edge * 21)
    const changes: number[] = []
    for (let x = 1; x < width; x += 1)
      if (data[row * width + x]! < 128 !== data[row * width + x - 1]! < 128) changes.push(x / perMm)
    expect(changes).toHaveLength(edges.length)
    changes.forEach((change, index) => expectNear(change, edges[index]!, { abs: 0.1 }))
    const column = Math.round(((edges[2]! + edges[3]!) / 2) * perMm)
    let ink = 0
    const [top, bottom] = [1.2, 4.6].map((y) => Math.round(y * 21 * perMm))
    for (let y = top!; y < bottom!; y += 1) ink += 1 - data[y * width + column]! / 255
    expectNear(ink / (bottom! - top!), STRIP_COVERAGE.faint, { abs: 0.01 })
  })

  // Outside truth: means over squares two pixels wide pass sin(2 pi f)/(2 pi f).
  it('flush under the printed chart, as a camera of 200 px/m sees both, are found and tell what it sees', async () => {
    const sheets = [false, true].map(async (strip) =>
      rasterised(await written('A4', null, false, strip), 127),
    )
    const [chart, strips] = await Promise.all(sheets)
    const [wide, tall, step] = [Math.floor(chart!.width / 25), Math.floor((2 * chart!.height) / 25), 25]
    const [width, height, margin] = [wide + 8, tall + 8, 4]
    const grey = new Float32Array(width * height).fill(120)
    for (let row = 0; row < tall; row += 1)
      for (let column = 0; column < wide; column += 1) {
        let light = 0
        for (let j = -step / 2; j < 1.5 * step; j += 1)
          for (let i = -step / 2; i < 1.5 * step; i += 1) {
            const x = Math.min(chart!.width - 1, Math.max(0, Math.floor(column * step + i)))
            const y = Math.max(0, Math.floor(row * step + j))
            const page = y < chart!.height ? chart! : strips!
            const at = Math.min(page.height - 1, y < chart!.height ? y : y - chart!.height) * page.width + x
            light += 0.04 + (0.6 * page.data[at]!) / 255
          }
        grey[(row + margin) * width + column + margin] = codeFromLinear(light / (2 * step) ** 2)
      }
    const perModule = (0.021 * 127) / 0.0254 / step
    const left = margin + (chart!.width / step - 14 * perModule) / 2
    const box = (top: number) => margin + (chart!.height / step - 10 * perModule) / 2 + top * perModule
    const corners: Quad = [
      [left + 1.2 * perModule, box(1.2)],
      [left + 12.8 * perModule, box(1.2)],
      [left + 12.8 * perModule, box(8.8)],
      [left + 1.2 * perModule, box(8.8)],
    ]
    const still = {
      width,
      height,
      bitDepth: 8,
      region: (asked: PixelRegion) => {
        const region = clampRegion(asked, width, height)
        const data = new Float32Array(region.width * region.height)
        for (let y = 0; y < region.height; y += 1)
          data.set(
            grey.subarray(
              (region.top + y) * width + region.left,
              (region.top + y) * width + region.left + region.width,
            ),
            y * region.width,
          )
        return Promise.resolve({ ...region, data })
      },
    }
    const reference = { ...chartReference('chart', A4, null), strip: 'A4' }
    const read = await stripsBeside(still, reference, corners, null, [])
    if (!read.ok) throw new Error(read.message)
    const { response24, response88, signs } = read.value.strip
    for (const [node, frequency] of [
      [1, 0.1],
      [2, 0.2],
      [3, 0.3],
    ] as const) {
      const aperture = Math.sin(2 * Math.PI * frequency) / (2 * Math.PI * frequency)
      expectNear(response88[node]!.value, aperture, { abs: 0.05 })
      expectNear(response24[node]!.value, aperture, { abs: 0.05 })
    }
    expect(signs).toEqual([])
  })
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
