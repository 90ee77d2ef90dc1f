import {
  FRAME_HEIGHT_MODULES,
  FRAME_WIDTH_MODULES,
  LETTERED_EDGE,
  moduleM,
} from '../../chart/printed/chartGeometry.js'
import type { ChartPaper } from '../../chart/printed/chartPapers.js'
import { INCH_M } from '../../units/formatLength.js'

const MM_PER_INCH = 1000 * INCH_M
const PT_PER_MM = 72 / MM_PER_INCH
/** Printers leave this much of the sheet's edge free, mm: common practice, no source. */
const UNPRINTABLE_MM = 4.5
/** Scale bars, mm: the longest that takes no more than two fifths of the sheet. */
const BARS_MM = [50, 100, 200, 300, 400]

/** What a printed sheet says of itself: what it is, what is to be done with it. */
interface SheetWords {
  readonly title: string
  readonly size: string
  readonly advice: readonly string[]
}

/** What the chart says of itself, and what its sheet of strips does. */
export function chartWords(paper: ChartPaper, dim: boolean): SheetWords {
  return {
    title: `Proofwalk test chart, ${paper.name} paper${dim ? ', dim (grey for white)' : ''}.`,
    size:
      `Black frame, outside: ${printedSize(paper, FRAME_WIDTH_MODULES, FRAME_HEIGHT_MODULES)}. ` +
      'Measure its width after printing and write it into the walk.',
    advice: [
      'Matte paper. Print at 100 % scale, nothing fitted to the page. Mount on a flat board.',
      INFRARED,
    ],
  }
}
export function stripWords(paper: ChartPaper): SheetWords {
  return {
    title: `Proofwalk strips, ${paper.name} paper, for detail at low contrast.`,
    size:
      'Fix this sheet flush under the chart, or 100 mm (4 in) under a board, in the middle, this way up. ' +
      `Both strips are ${printedSize(paper, FRAME_WIDTH_MODULES)} wide.`,
    advice: ['Matte paper. Print at 100 % scale, with the printer and the settings of the chart.', INFRARED],
  }
}
/** What a letter card says of itself; never what stands on it. */
export function letterWords(paper: ChartPaper, number: number): SheetWords {
  return {
    title: `Proofwalk letter card ${number}, ${paper.name} paper, for the reading trial.`,
    size: 'Fix this sheet flush under the chart, in the middle, this way up. Not a number plate: never fit it to a vehicle.',
    advice: ['Matte paper. Print at 100 % scale, with the printer and the settings of the chart.', INFRARED],
  }
}
const INFRARED =
  'For infrared print with carbon toner or pigment black: many inks vanish. Check at 2 m (6 ft).'

/** "487.2 x 319.2 mm (19.18 x 12.57 in)". */
export function printedSize(paper: ChartPaper, ...sidesInModules: readonly number[]): string {
  const sides = (unitM: number, decimals: number): string =>
    sidesInModules.map((side) => ((side * moduleM(paper)) / unitM).toFixed(decimals)).join(' x ')
  return `${sides(0.001, 1)} mm (${sides(INCH_M, 2)} in)`
}

/** Words and the scale bar in a sheet's lettered edge, which no measurement looks at. `module` in points; black is set. */
export function drawChartWords(
  doc: PDFKit.PDFDocument,
  paper: ChartPaper,
  module: number,
  { title, size, advice }: SheetWords,
): void {
  const widthPt = paper.widthM * 1000 * PT_PER_MM
  const heightPt = paper.heightM * 1000 * PT_PER_MM
  const modulePt = module
  const bandPt = LETTERED_EDGE * modulePt - UNPRINTABLE_MM * PT_PER_MM
  const leftPt = LETTERED_EDGE * modulePt
  const roomPt = widthPt - 2 * leftPt
  const line = (text: string, x: number, y: number, room: number, most: number, face: string): void => {
    doc.font(face).fontSize(most)
    const fitted = most * Math.min(1, room / doc.widthOfString(text))
    doc.fontSize(fitted).text(text, x, y, { lineBreak: false })
  }
  const sizePt = Math.min(bandPt * 0.42, 22)
  const topPt = UNPRINTABLE_MM * PT_PER_MM
  line(title, leftPt, topPt, roomPt, sizePt, 'semibold')
  line(size, leftPt, topPt + 1.15 * sizePt, roomPt, 0.85 * sizePt, 'regular')
  const barMm = BARS_MM.filter((bar) => bar * PT_PER_MM <= 0.4 * widthPt).at(-1) ?? 50
  const barPt = barMm * PT_PER_MM
  const tickPt = Math.min(0.14 * modulePt, 0.4 * bandPt)
  const lineYPt = heightPt - UNPRINTABLE_MM * PT_PER_MM - tickPt
  doc.addContent('0 G')
  doc.lineWidth(Math.max(0.5, 0.012 * modulePt))
  doc.moveTo(leftPt, lineYPt).lineTo(leftPt + barPt, lineYPt)
  for (let part = 0; part <= 10; part += 1) {
    const x = leftPt + (part * barPt) / 10
    const isEnd = part === 0 || part === 10
    doc.moveTo(x, lineYPt - (isEnd ? tickPt : tickPt / 2)).lineTo(x, isEnd ? lineYPt + tickPt : lineYPt)
  }
  // The same rule in inches below it, halves between, in shorter ticks.
  const inches = Math.floor(barMm / MM_PER_INCH)
  for (let half = 0; half <= 2 * inches; half += 1) {
    const x = leftPt + (half * MM_PER_INCH * PT_PER_MM) / 2
    doc.moveTo(x, lineYPt).lineTo(x, lineYPt + (half % 2 === 0 ? 0.55 : 0.3) * tickPt)
  }
  doc.stroke()
  line(
    `Above: ${barMm} mm between the long ticks. Below: ${inches} in.`,
    leftPt + 0.1 * sizePt,
    lineYPt - tickPt - 0.95 * sizePt,
    0.9 * barPt,
    0.62 * sizePt,
    'regular',
  )
  const textX = leftPt + barPt + sizePt
  const textRoom = widthPt - leftPt - textX
  const textTop = heightPt - LETTERED_EDGE * modulePt + 0.1 * sizePt
  advice.forEach((text, index) =>
    line(text, textX, textTop + 1.1 * index * sizePt, textRoom, 0.85 * sizePt, 'regular'),
  )
}
