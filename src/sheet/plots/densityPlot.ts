import type { PlotField } from './plotField.js'
import type { SheetContext } from '../input/sheetContext.js'
import { trimmed } from '../../units/figures.js'
import type { Pen } from '../document/pen.js'
import { evenScale, logScale } from '../../plot/plotScales.js'
import { FLAG_ROW_PT, plotPromises } from './plotPromises.js'
import { plotSeries } from './plotSeries.js'
import { drawPlotKey, plotKeyHeightPt } from './plotKey.js'
import { limitLabel, plotInWords } from '../../plot/plotWords.js'
import { seriesOf } from '../../plot/series.js'
import { tagged } from '../document/tagged.js'
import { baselineBelow, drawLine, textWidthPt } from '../document/text.js'
import { GREY, INK, LINE_PT, SMALL_STRONG, TINY_GREY } from '../document/typography.js'
import { strokePath } from '../document/strokePath.js'

/** Least height at which the plot is worth drawing, points, its key included. */
export const LEAST_PLOT_PT = 150

/** Density against distance as vectors, `heightPt` high: a line style per light, the grades' limits as labelled lines. Nothing without marks. */
export function drawDensityPlot(pen: Pen, context: SheetContext, heightPt: number): void {
  if (context.results.marks.length === 0) return
  const { doc, frame } = pen
  const top = pen.y
  const keyTop = top + 15
  const series = seriesOf(context.results)
  const field = plotField(pen, context, keyTop + plotKeyHeightPt(pen, context, series) + 4, top + heightPt)
  tagged(
    pen,
    'Figure',
    () => {
      const unit = context.figures.densityUnit
      const title = `Density on the reference against distance, ${unit}${context.simulated ? ' (simulated)' : ''}`
      drawLine(doc, title, frame.left, baselineBelow(top, SMALL_STRONG), SMALL_STRONG)
      drawPlotKey(pen, context, series, keyTop)
      drawAxes(doc, field, context)
      drawLimits(doc, field, context)
      plotPromises(doc, field, context)
      plotSeries(doc, field, context, series)
    },
    {
      alt: plotInWords(context.results, context.figures),
      bbox: [frame.left, top, frame.right, top + heightPt],
    },
  )
  pen.y = top + heightPt
}

function plotField(pen: Pen, context: SheetContext, topPt: number, bottomPt: number): PlotField {
  const { marks, promises } = context.results
  const { figures } = context
  const distances = [...marks, ...promises].map(({ distance }) => figures.inLengthUnit(distance))
  const densities = marks.flatMap((mark) => [mark.density, mark.effectiveDensity ?? mark.density])
  const limits = promises.flatMap(({ limit, kind }) => (kind === 'read' ? [] : [limit]))
  const positive = [
    ...densities.flatMap(({ low, high, value }) => [Math.max(low ?? value, value / 2), high]),
    ...limits,
    ...neighbourLimits(context),
  ]
    .filter((density) => density > 0 && Number.isFinite(density))
    .map((density) => figures.inDensityUnit(density))
  const labels = context.results.grading.grades.map((grade) =>
    textWidthPt(pen.doc, limitLabel(grade, context.figures), TINY_GREY),
  )
  const left = pen.frame.left + 24
  const right = pen.frame.right - Math.max(0, ...labels) - 6
  const top = topPt
  const bottom = bottomPt - 20
  const leastPt = promises.length === 0 ? bottom : bottom - FLAG_ROW_PT
  return {
    x: evenScale(Math.max(...distances, 1e-6), left, right, 12),
    y: logScale(Math.min(...positive) / 1.4, Math.max(...positive) * 1.18, leastPt, top),
    left,
    right,
    top,
    bottom,
  }
}

/** The next limit above and below what was measured, where it is no farther than two and a half times off. */
function neighbourLimits({ results }: SheetContext): number[] {
  const values = results.marks.map(({ density }) => density.value)
  const [least, most] = [Math.min(...values), Math.max(...values)]
  const limits = results.grading.grades.map(({ limit }) => limit)
  const below = Math.max(...limits.filter((limit) => limit < least && limit > least / 2.5))
  const above = Math.min(...limits.filter((limit) => limit > most && limit < most * 2.5))
  return [below, above]
}

function drawAxes(doc: PDFKit.PDFDocument, field: PlotField, { figures }: SheetContext): void {
  strokePath(doc, LINE_PT.hair, INK, [field.left, field.top], [field.left, field.bottom])
  strokePath(doc, null, INK, [field.left, field.bottom], [field.right, field.bottom])
  for (const tick of field.x.ticks) {
    const x = field.x.at(tick)
    strokePath(doc, null, INK, [x, field.bottom], [x, field.bottom + 3])
    drawLine(doc, trimmed(tick, 2), x, field.bottom + 11, TINY_GREY, 'centre')
  }
  drawLine(doc, figures.lengthUnit, field.right + 6, field.bottom + 11, TINY_GREY)
  for (const tick of field.y.ticks) {
    const y = field.y.at(tick)
    strokePath(doc, null, INK, [field.left - 3, y], [field.left, y])
    drawLine(doc, trimmed(tick, 2), field.left - 6, y + 2, TINY_GREY, 'right')
  }
}

function drawLimits(doc: PDFKit.PDFDocument, field: PlotField, context: SheetContext): void {
  for (const grade of context.results.grading.grades) {
    const limit = context.figures.inDensityUnit(grade.limit)
    if (limit < field.y.low || limit > field.y.high) continue
    const y = field.y.at(limit)
    strokePath(doc, LINE_PT.hair, GREY, [field.left, y], [field.right, y])
    drawLine(doc, limitLabel(grade, context.figures), field.right + 5, y + 2.1, { ...TINY_GREY, colour: INK })
  }
}
