import {
  boxCorners,
  chartFace,
  DARK_HALF,
  darkSlabCorners,
  FIELD,
  FRAME,
  LIGHT_HALF,
  lightSlabCorners,
  moduleM,
  stripAreas,
  STRIP,
  type ModuleBox,
} from '../../chart/printed/chartGeometry.js'
import type { ChartPaper } from '../../chart/printed/chartPapers.js'
import { evenLines, fineLines } from '../../chart/printed/fineLines.js'
import { FAINT_PERIOD_M, STRIP_COVERAGE, stripBars } from '../../chart/printed/stripSheet.js'
import type { Quad } from '../../math/point.js'
import { chartWords, drawChartWords, stripWords } from './drawChartWords.js'

export const PT_PER_M = 72 / 0.0254

/** Grey of the dim variant's ground, DeviceGray: this project's convention. */
const DIM_GROUND = 0.5

/**
 * Draws a chart on the page in hand, the sheet's top left at the origin, in points; `dim` prints grey for white. Ink is DeviceGray black, so
 * that a printer lays down its black alone.
 */
export function drawChart(doc: PDFKit.PDFDocument, paper: ChartPaper, dim: boolean): void {
  const fill = fillerOf(doc, paper)
  const box = (area: ModuleBox): Quad => boxCorners(area)
  const ground = dim ? DIM_GROUND : 1
  const face = chartFace(paper.face)
  if (dim) {
    doc.addContent(`${ground} g`)
    doc.rect(0, 0, paper.widthM * PT_PER_M, paper.heightM * PT_PER_M).fill()
  }
  fill([box(FRAME)], 0)
  fill([box(LIGHT_HALF)], ground)
  fill([box(DARK_HALF)], 0)
  fill([box(STRIP)], ground)
  fill([darkSlabCorners(face.leftUpright)], 0)
  fill([lightSlabCorners(face.rightUpright)], ground)
  for (const area of stripAreas(face)) fill(fineLines(area, moduleM(paper)).map(box), 0)
  doc.addContent('0 g')
  drawChartWords(doc, paper, moduleM(paper) * PT_PER_M, chartWords(paper, dim))
}

/** Draws the sheet of the two strips on the page in hand, as the chart is drawn. */
export function drawStrips(doc: PDFKit.PDFDocument, paper: ChartPaper): void {
  const module = moduleM(paper)
  const faint = stripBars(paper, 'faint').flatMap((bar) =>
    evenLines(bar, STRIP_COVERAGE.faint, FAINT_PERIOD_M, module),
  )
  fillerOf(doc, paper)([...faint, ...stripBars(paper, 'black')].map(boxCorners), 0)
  drawChartWords(doc, paper, module * PT_PER_M, stripWords(paper))
}

/** Fills quads, modules of the sheet's field, with a grey. */
function fillerOf(
  doc: PDFKit.PDFDocument,
  paper: ChartPaper,
): (quads: readonly Quad[], grey: number) => void {
  const module = moduleM(paper) * PT_PER_M
  const originX = (paper.widthM * PT_PER_M - FIELD.width * module) / 2
  const originY = (paper.heightM * PT_PER_M - FIELD.height * module) / 2
  return (quads, grey) => {
    doc.addContent(`${grey} g`)
    for (const quad of quads) {
      quad.forEach(([x, y], index) => {
        const at: [number, number] = [originX + x * module, originY + y * module]
        if (index === 0) doc.moveTo(...at)
        else doc.lineTo(...at)
      })
      doc.closePath()
    }
    doc.fill()
  }
}
