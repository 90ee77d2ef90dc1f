import { describe, expect, it } from 'vitest'
import { FRAME, moduleM } from '../../../src/chart/printed/chartGeometry.js'
import { CHART_PAPERS, chartPaper } from '../../../src/chart/printed/chartPapers.js'
import {
  barEdges,
  STRIP_BOXES,
  STRIP_COVERAGE,
  stripBars,
  stripSheetBelow,
} from '../../../src/chart/printed/stripSheet.js'
import { expectNear } from '../../nearly.js'

describe('the sheet of two strips', () => {
  it('never changes: sheets that are printed carry these bars', () => {
    const edgesMm = barEdges(chartPaper('A3')!).map(
      (edge) => (edge - FRAME.left) * moduleM(chartPaper('A3')!) * 1000,
    )
    expect(edgesMm.slice(0, 6).map((mm) => Math.round(mm * 100) / 100)).toEqual([
      3.6, 6.6, 13.58, 16.69, 21.52, 26.52,
    ])
  })

  it('is the same on every paper, in metres, only longer on a larger one', () => {
    const inMetres = (id: string): number[] =>
      barEdges(chartPaper(id)!).map((edge) => (edge - FRAME.left) * moduleM(chartPaper(id)!))
    const [small, large] = [inMetres('A4').slice(0, -1), inMetres('A0')]
    small.forEach((edge, index) => expectNear(edge, large[index]!, { abs: 1e-12 }))
    expect(large.length).toBeGreaterThan(small.length)
  })

  it('has strips of 36 mm and more, at least 1.2 modules from the frame of a chart above it', () => {
    for (const paper of CHART_PAPERS) {
      for (const { top, bottom } of Object.values(STRIP_BOXES))
        expect((bottom - top) * moduleM(paper), paper.id).toBeGreaterThanOrEqual(0.036)
      expect(stripSheetBelow(paper) + STRIP_BOXES.faint.top - FRAME.bottom).toBeGreaterThanOrEqual(1.2)
    }
  })

  it('has bars and gaps of 2.5 to 30 mm, save where the end cuts one', () => {
    for (const paper of CHART_PAPERS) {
      const edges = barEdges(paper)
      const widths = edges.slice(1).map((edge, index) => (edge - edges[index]!) * moduleM(paper))
      for (const width of widths.slice(0, -1)) {
        expect(width).toBeGreaterThanOrEqual(0.0025)
        expect(width).toBeLessThanOrEqual(0.03)
      }
      expect(stripBars(paper, 'black').length * 2).toBe(edges.length)
    }
  })

  it('has 24 % contrast in the faint strip with ink that throws back 6 % of what paper does', () => {
    const bar = 1 - 0.94 * STRIP_COVERAGE.faint
    expectNear((1 - bar) / (1 + bar), 0.24, { abs: 0.005 })
  })
})
