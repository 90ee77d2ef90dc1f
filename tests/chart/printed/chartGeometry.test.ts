import { describe, expect, it } from 'vitest'
import {
  chartAreas,
  chartFace,
  DARK_HALF,
  darkSlabCorners,
  evenInk,
  FACES,
  FRAME_HEIGHT_MODULES,
  FRAME_WIDTH_MODULES,
  inkAt,
  LIGHT_HALF,
  lightSlabCorners,
  moduleM,
  stripAreas,
} from '../../../src/chart/printed/chartGeometry.js'
import { CHART_PAPERS, chartPaper } from '../../../src/chart/printed/chartPapers.js'
import { fineLines, LINE_PERIODS_M } from '../../../src/chart/printed/fineLines.js'
import { regionPaper } from '../../../src/cli/folders/chartFile.js'
import { expectNear } from '../../nearly.js'

describe('the chart', () => {
  it('has a module that is the lesser of width/14 and height/10, and a frame of 11.6 x 7.6 of them', () => {
    expectNear(moduleM(chartPaper('A4')!), 0.021, { abs: 1e-12 })
    expectNear(moduleM(chartPaper('Letter')!), 0.2794 / 14, { abs: 1e-12 })
    expectNear(FRAME_WIDTH_MODULES * moduleM(chartPaper('A2')!), 0.4872, { abs: 1e-9 })
    expectNear(FRAME_HEIGHT_MODULES * moduleM(chartPaper('A2')!), 0.3192, { abs: 1e-9 })
  })

  it('keeps 0.7 modules of free ground around every slab', () => {
    for (const upright of [false, true])
      for (const [corners, half] of [
        [darkSlabCorners(upright), LIGHT_HALF],
        [lightSlabCorners(upright), DARK_HALF],
      ] as const)
        for (const [x, y] of corners) {
          const free = Math.min(x - half.left, half.right - x, y - half.top, half.bottom - y)
          expect(free, `corner ${x}, ${y}`).toBeGreaterThanOrEqual(0.7)
        }
  })

  it('adds up to ink between none and full everywhere, on every face', () => {
    for (let face = 0; face < FACES; face += 1) {
      const areas = chartAreas(chartFace(face))
      let [least, most] = [Infinity, -Infinity]
      for (let y = 0.05; y < 10; y += 0.1)
        for (let x = 0.05; x < 14; x += 0.1) {
          const ink = inkAt(areas, x, y)
          least = Math.min(least, ink)
          most = Math.max(most, ink)
        }
      expectNear(least, 0, { abs: 1e-12 })
      expectNear(most, 1, { abs: 1e-12 })
    }
  })

  it('is even around a place only where no side runs nearby, and then inked as that place is', () => {
    const areas = chartAreas(chartFace(5))
    const even = evenInk(areas)
    const reach = 0.08
    let [known, unknown, other] = [0, 0, 0]
    for (let y = 0.03; y < 10; y += 0.07)
      for (let x = 0.03; x < 14; x += 0.07) {
        const around = even(x, y, reach)
        if (Number.isNaN(around)) unknown += 1
        else {
          known += 1
          for (let turn = 0; turn < 8; turn += 1) {
            const [u, v] = [Math.cos((turn * Math.PI) / 4), Math.sin((turn * Math.PI) / 4)]
            if (inkAt(areas, x + 0.999 * reach * u, y + 0.999 * reach * v) !== around) other += 1
          }
        }
      }
    expect(other).toBe(0)
    // The sides are some 90 modules long in all: twice the reach of them is not even.
    expectNear(unknown / (known + unknown), (2 * reach * 90) / 140, { abs: 0.04 })
  })

  it('gives every paper a face of its own, and papers easily confused faces two features apart', () => {
    expect(new Set(CHART_PAPERS.map((paper) => paper.face)).size).toBe(CHART_PAPERS.length)
    const apart = (a: string, b: string): number => {
      const difference = chartPaper(a)!.face ^ chartPaper(b)!.face
      return (difference & 1) + ((difference >> 1) & 1) + ((difference >> 2) & 1)
    }
    for (const [a, b] of [
      ['A4', 'Letter'],
      ['A3', 'Tabloid'],
      ['A5', 'A4'],
      ['A4', 'A3'],
      ['A3', 'A2'],
      ['A2', 'A1'],
      ['A1', 'A0'],
    ] as const)
      expect(apart(a, b), `${a} and ${b}`).toBeGreaterThanOrEqual(2)
  })

  it('draws fine lines whose ink adds up to the coverage, at both periods, on the grid of a 600 dpi printer', () => {
    const module = moduleM(chartPaper('A4')!)
    for (const area of stripAreas(chartFace(0))) {
      const lines = fineLines(area, module)
      const whole = (area.box.right - area.box.left) * (area.box.bottom - area.box.top)
      const ink = lines.reduce((sum, line) => sum + (line.right - line.left) * (line.bottom - line.top), 0)
      expectNear(ink / whole, area.coverage, { abs: 1e-9 })
      expect(new Set(lines.map((line) => line.periodM)).size).toBe(2)
    }
    const dots = LINE_PERIODS_M.map((period) => (period / 0.0254) * 600 * 0.25)
    for (const dot of dots) expectNear(dot, Math.round(dot), { abs: 1e-9 }, 'dots of the thinnest line')
  })

  it('takes the office paper of the region', () => {
    expect(regionPaper('en-US')).toBe('Letter')
    expect(regionPaper('es-MX')).toBe('Letter')
    expect(regionPaper('en-GB')).toBe('A4')
    expect(regionPaper('de')).toBe('A4')
    expect(regionPaper('no such locale!')).toBe('A4')
  })
})
