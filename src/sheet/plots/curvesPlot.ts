import type { Point } from '../../math/point.js'
import { DEFAULT_FULL_DETAIL_AT } from '../../grade/gradings/grading.js'
import type { SharpnessCurve } from '../../measure/stillMeasurement.js'
import type { StillEntry, WalkResults } from '../../walk/schemas/resultsSchema.js'
import type { Pen } from '../document/pen.js'
import { evenScale, type PlotScale } from '../../plot/plotScales.js'
import { drawSubhead } from '../document/prose.js'
import { strokeDashed } from './seriesInk.js'
import { lightDash } from '../../plot/seriesStyle.js'
import type { SheetContext } from '../input/sheetContext.js'
import { tagged } from '../document/tagged.js'
import { drawLine } from '../document/text.js'
import { GREY, INK, LINE_PT, TINY_GREY } from '../document/typography.js'
import { strokePath } from '../document/strokePath.js'

/** One mark's curve of the direction that decides, and what its key says. */
interface MarkCurve {
  readonly text: string
  readonly step: number
  readonly modulation: readonly number[]
}

const HEIGHT_PT = 124
const WIDTH_PT = 270
const KEY_GAP_PT = 26
const SAMPLE_PT = 26
const ROW_PT = 10.5
/** The plot ends here, cycles per pixel: finer than half a cycle no pixel can show. */
const HIGHEST = 0.6

/** Modulation against frequency, one curve for each mark with a chart, overlaid; nothing where no chart was measured. */
export function drawCurvesPlot(pen: Pen, context: SheetContext): void {
  const curves = markCurves(context)
  if (curves.length === 0) return
  const heightPt = Math.max(HEIGHT_PT, curves.length * ROW_PT + 24)
  drawSubhead(pen, 'Sharpness on the chart', heightPt + 6)
  const { doc, frame } = pen
  const top = pen.y + 4
  const left = frame.left + 24
  const bottom = top + heightPt - 24
  const x = evenScale(HIGHEST / 1.06, left, left + WIDTH_PT, 8)
  const y = evenScale(1.05, bottom, top, 6)
  tagged(
    pen,
    'Figure',
    () => {
      drawAxes(doc, x, y, { left, right: left + WIDTH_PT, top, bottom })
      drawLevels(doc, x, y, context)
      curves.forEach((curve, index) => {
        drawCurve(doc, x, y, curve, index)
        drawKey(doc, curve, index, left + WIDTH_PT + KEY_GAP_PT, top + 6 + index * ROW_PT)
      })
    },
    { alt: altText(context, curves), bbox: [frame.left, top, frame.right, top + heightPt] },
  )
  pen.y = top + heightPt
}

function markCurves({ results, figures }: SheetContext): MarkCurve[] {
  return results.marks.flatMap((mark): MarkCurve[] => {
    const still = results.stills.find((one) => isAt(one, mark) && one.sharpness?.curve !== undefined)
    const sharpness = still?.sharpness
    if (sharpness?.curve === undefined) return []
    const lower = sharpness.horizontal.mtf10 <= sharpness.vertical.mtf10 ? 'horizontal' : 'vertical'
    const curve: SharpnessCurve = sharpness.curve
    const text = `${mark.light}, ${mark.reference}, ${figures.distance(mark.distance)}`
    return [{ text, step: curve.step, modulation: curve[lower] }]
  })
}

function isAt(still: StillEntry, mark: WalkResults['marks'][number]): boolean {
  return still.light === mark.light && still.reference === mark.reference && still.distance === mark.distance
}

function drawAxes(
  doc: PDFKit.PDFDocument,
  x: PlotScale,
  y: PlotScale,
  field: { readonly left: number; readonly right: number; readonly top: number; readonly bottom: number },
): void {
  const { left, right, top, bottom } = field
  strokePath(doc, LINE_PT.hair, INK, [left, top], [left, bottom], [right, bottom])
  for (const tick of x.ticks) {
    const at = x.at(tick)
    strokePath(doc, null, INK, [at, bottom], [at, bottom + 3])
    drawLine(doc, String(tick), at, bottom + 11, TINY_GREY, 'centre')
  }
  for (const tick of y.ticks) {
    const at = y.at(tick)
    strokePath(doc, null, INK, [left - 3, at], [left, at])
    drawLine(doc, String(tick), left - 6, at + 2, TINY_GREY, 'right')
  }
  drawLine(
    doc,
    'modulation against cycles per pixel, in the less sharp direction',
    left,
    bottom + 20,
    TINY_GREY,
  )
}

/** The tenth that counts, and the frequency from which every pixel counts. */
function drawLevels(doc: PDFKit.PDFDocument, x: PlotScale, y: PlotScale, { results }: SheetContext): void {
  const fullAt = results.grading.fullDetailAt ?? DEFAULT_FULL_DETAIL_AT
  strokePath(doc, LINE_PT.hair, GREY, [x.at(0), y.at(0.1)], [x.at(HIGHEST), y.at(0.1)])
  strokePath(doc, null, GREY, [x.at(fullAt), y.at(0)], [x.at(fullAt), y.at(1)])
  drawLine(doc, '10 %', x.at(HIGHEST) + 3, y.at(0.1) + 2, TINY_GREY)
  drawLine(doc, 'every pixel counts from here', x.at(fullAt) + 3, y.at(1) + 6, TINY_GREY)
}

function drawCurve(
  doc: PDFKit.PDFDocument,
  x: PlotScale,
  y: PlotScale,
  { step, modulation }: MarkCurve,
  index: number,
): void {
  const places = modulation
    .filter((_, at) => at * step <= HIGHEST + 1e-9)
    .map((value, at): Point => [x.at(at * step), y.at(Math.max(0, Math.min(y.high, value)))])
  strokeDashed(doc, LINE_PT.rule, lightDash(index), INK, ...places)
}

function drawKey(doc: PDFKit.PDFDocument, curve: MarkCurve, index: number, x: number, y: number): void {
  strokeDashed(doc, LINE_PT.rule, lightDash(index), INK, [x, y], [x + SAMPLE_PT, y])
  drawLine(doc, curve.text, x + SAMPLE_PT + 5, y + 2.2, { ...TINY_GREY, colour: INK })
}

function altText({ results }: SheetContext, curves: readonly MarkCurve[]): string {
  const f10 = curves.map(({ text, step, modulation }) => {
    const below = modulation.findIndex((value) => value < 0.1)
    return `${text}: ${below < 0 ? 'over 10 % throughout' : `10 % near ${(below * step).toFixed(2)} cycles per pixel`}`
  })
  return `Plot of modulation against frequency on the chart, graded by ${results.grading.name}. ${f10.join('; ')}.`
}
