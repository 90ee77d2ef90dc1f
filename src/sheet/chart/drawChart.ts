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
import {
  codeCells,
  LETTER_ROWS,
  rowBox,
  rowStrokes,
  type LetterCard,
  type LetterSize,
} from '../../chart/printed/letterSheet.js'
import { FAINT_PERIOD_M, STRIP_COVERAGE, stripBars } from '../../chart/printed/stripSheet.js'
import type { Quad } from '../../math/point.js'
import { chartWords, drawChartWords, letterWords, stripWords } from './drawChartWords.js'

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

/** Draws a letter card on the page in hand, as the chart is drawn; its lower row is black under level lines of paper, which leave the faint strip's share of ink. */
export function drawLetters(
  doc: PDFKit.PDFDocument,
  paper: ChartPaper,
  size: LetterSize,
  card: LetterCard,
): void {
  const module = moduleM(paper)
  const fill = fillerOf(doc, paper)
  const at = placerOf(paper)
  for (const row of LETTER_ROWS) {
    doc.addContent('0 G')
    doc
      .lineWidth(size.strokeM * PT_PER_M)
      .lineCap('round')
      .lineJoin('round')
    for (const stroke of rowStrokes(paper, size, row, card[row]))
      stroke.forEach(([x, y], index) => (index === 0 ? doc.moveTo(...at(x, y)) : doc.lineTo(...at(x, y))))
    doc.stroke()
    if (row === 'faint')
      fill(
        evenLines(rowBox(paper, size, row), 1 - STRIP_COVERAGE.faint, FAINT_PERIOD_M, module).map(boxCorners),
        1,
      )
  }
  fill(codeCells(card.number).map(boxCorners), 0)
  doc.lineCap('butt').lineJoin('miter')
  drawChartWords(doc, paper, module * PT_PER_M, letterWords(paper, card.number))
}

/** Fills quads, modules of the sheet's field, with a grey. */
function fillerOf(
  doc: PDFKit.PDFDocument,
  paper: ChartPaper,
): (quads: readonly Quad[], grey: number) => void {
  const at = placerOf(paper)
  return (quads, grey) => {
    doc.addContent(`${grey} g`)
    for (const quad of quads) {
      quad.forEach(([x, y], index) => {
        if (index === 0) doc.moveTo(...at(x, y))
        else doc.lineTo(...at(x, y))
      })
      doc.closePath()
    }
    doc.fill()
  }
}

/** Places of a sheet's field, modules, in points from the sheet's top left. */
function placerOf(paper: ChartPaper): (x: number, y: number) => [number, number] {
  const module = moduleM(paper) * PT_PER_M
  const originX = (paper.widthM * PT_PER_M - FIELD.width * module) / 2
  const originY = (paper.heightM * PT_PER_M - FIELD.height * module) / 2
  return (x, y) => [originX + x * module, originY + y * module]
}
