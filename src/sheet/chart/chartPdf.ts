import PDFDocument from 'pdfkit'
import type { ChartPaper } from '../../chart/printed/chartPapers.js'
import type { LetterCard, LetterSize } from '../../chart/printed/letterSheet.js'
import { planTiles, TILE_MARGIN_M, TILE_OVERLAP_M, type TilePlan } from './chartTiles.js'
import { collectBytes } from '../document/openDocument.js'
import { drawChart, drawLetters, drawStrips, PT_PER_M } from './drawChart.js'
import { INCH_M } from '../../units/formatLength.js'
import { fontPath } from '../document/typography.js'

/** What chart is printed, and how. */
export interface ChartPdfOptions {
  readonly paper: ChartPaper
  /** Cut up on pages of this paper, to be glued together; null for one page of the chart's own size. */
  readonly tile: ChartPaper | null
  /** Grey for white, for lights that would wash paper out. */
  readonly dim: boolean
  /** The sheet of the two strips in place of the chart. */
  readonly strip?: boolean
  /** Letter cards in place of the chart, a sheet each. */
  readonly letters?: { readonly cards: readonly LetterCard[]; readonly size: LetterSize }
}

/** One printed sheet: what it is called, and what draws it. */
interface PrintedSheet {
  readonly name: string
  draw(page: PDFKit.PDFDocument): void
}

function sheetsOf({ paper, dim, strip = false, letters }: ChartPdfOptions): PrintedSheet[] {
  if (letters !== undefined)
    return letters.cards.map((card) => ({
      name: `letter card ${card.number}`,
      draw: (page) => drawLetters(page, paper, letters.size, card),
    }))
  if (strip) return [{ name: 'strips', draw: (page) => drawStrips(page, paper) }]
  return [{ name: 'chart', draw: (page) => drawChart(page, paper, dim) }]
}

/** No clock is read: the chart is the same file whenever it is made. */
const CHART_DATE = new Date(Date.UTC(2026, 0, 1))
const CUT_MARK_M = 0.006

/** The printed chart, its sheet of strips, or letter cards, as PDF: true scale, vectors, fonts embedded, the same bytes every time. */
export async function chartPdf(options: ChartPdfOptions): Promise<Uint8Array> {
  const { paper, tile, strip = false, letters } = options
  const title = letters === undefined ? (strip ? 'strips' : 'test chart') : 'letter cards'
  const doc = new PDFDocument({
    pdfVersion: '1.7',
    lang: 'en-GB',
    displayTitle: true,
    autoFirstPage: false,
    margins: { top: 0, bottom: 0, left: 0, right: 0 },
    font: '',
    info: {
      Title: `Proofwalk ${title}, ${paper.name}`,
      Creator: 'Proofwalk',
      Producer: 'Proofwalk',
      CreationDate: CHART_DATE,
      ModDate: CHART_DATE,
    },
  })
  const bytes = collectBytes(doc)
  doc.registerFont('regular', fontPath('regular'))
  doc.registerFont('semibold', fontPath('semibold'))
  doc.font('regular')
  for (const sheet of sheetsOf(options)) {
    if (tile === null) {
      addPage(doc, paper.widthM, paper.heightM)
      sheet.draw(doc)
    } else drawTiles(doc, paper, planTiles(paper, tile), sheet)
  }
  doc.end()
  return bytes
}

function addPage(doc: PDFKit.PDFDocument, widthM: number, heightM: number): void {
  doc.addPage({
    size: [widthM * PT_PER_M, heightM * PT_PER_M],
    margins: { top: 0, bottom: 0, left: 0, right: 0 },
  })
}

function drawTiles(
  doc: PDFKit.PDFDocument,
  paper: ChartPaper,
  plan: TilePlan,
  { name, draw }: PrintedSheet,
): void {
  const margin = TILE_MARGIN_M * PT_PER_M
  const width = plan.windowWidthM * PT_PER_M
  const height = plan.windowHeightM * PT_PER_M
  for (const tile of plan.tiles) {
    addPage(doc, plan.pageWidthM, plan.pageHeightM)
    doc.save()
    doc.rect(margin, margin, width, height).clip()
    doc.translate(margin - tile.leftM * PT_PER_M, margin - tile.topM * PT_PER_M)
    draw(doc)
    doc.addContent('0.6 G')
    doc
      .lineWidth(0.3)
      .rect(0, 0, paper.widthM * PT_PER_M, paper.heightM * PT_PER_M)
      .stroke()
    doc.restore()
    drawCutMarks(doc, margin, width, height)
    const overlap = `${(TILE_OVERLAP_M * 1000).toFixed(0)} mm (${(TILE_OVERLAP_M / INCH_M).toFixed(1)} in)`
    doc
      .font('regular')
      .fontSize(7)
      .text(
        `${paper.name} ${name}, row ${tile.row + 1} of ${plan.rows}, column ${tile.column + 1} of ${plan.columns}. ` +
          `Print at 100 %. Cut along the marks at the right and below; neighbours overlap by ${overlap} (short marks).`,
        margin + 12,
        margin - 22,
        { lineBreak: false },
      )
  }
}

/** Long marks where the tile is cut, short ones where the neighbour's overlap begins; all of them in the margin. */
function drawCutMarks(doc: PDFKit.PDFDocument, margin: number, width: number, height: number): void {
  const long = CUT_MARK_M * PT_PER_M
  const overlap = TILE_OVERLAP_M * PT_PER_M
  const gap = 2
  doc.addContent('0 G')
  doc.lineWidth(0.4)
  for (const [across, length] of [
    [0, long],
    [overlap, long / 2],
    [width - overlap, long / 2],
    [width, long],
  ] as const) {
    doc.moveTo(margin + across, margin - gap).lineTo(margin + across, margin - gap - length)
    doc.moveTo(margin + across, margin + height + gap).lineTo(margin + across, margin + height + gap + length)
  }
  for (const [down, length] of [
    [0, long],
    [overlap, long / 2],
    [height - overlap, long / 2],
    [height, long],
  ] as const) {
    doc.moveTo(margin - gap, margin + down).lineTo(margin - gap - length, margin + down)
    doc.moveTo(margin + width + gap, margin + down).lineTo(margin + width + gap + length, margin + down)
  }
  doc.stroke()
}
