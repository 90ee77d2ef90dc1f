import type { PlotField } from './plotField.js'
import type { SheetContext } from '../input/sheetContext.js'
import { trimmed } from '../../units/figures.js'
import type { Pen } from '../document/pen.js'
import { evenScale, logScale } from '../../plot/plotScales.js'
import { FLAG_ROW_PT, plotPromises } from './plotPromises.js'
import { plotSeries } from './plotSeries.js'
import { drawPlotKey, plotKeyHeightPt } from './plotKey.js'
import { limitLabel, plotInWords } from '../../plot/plotWords.js'
import { type PlotPanels, plotPanels } from './plotPanels.js'
import { tagged } from '../document/tagged.js'
import { baselineBelow, drawLine, textWidthPt, wrapText } from '../document/text.js'
import {
  GREY,
  INK,
  LINE_PT,
  SIZE_PT,
  SMALL_STRONG,
  type TextStyle,
  TINY_GREY,
} from '../document/typography.js'
import { strokePath } from '../document/strokePath.js'

const LIGHT: TextStyle = { sizePt: SIZE_PT.tiny, face: 'semibold' }
/** Room a figure of the distance axis takes, points. */
const TICK_PT = 24

/** Height of a row of panels below which it is not worth drawing, and of title and key, points. */
const LEAST_ROW_PT = 80
const HEAD_PT = 40
const BESIDE_PT = 12
const PANEL_HEAD_PT = 10

/** Least height at which the plot is worth drawing, points, its key included. */
export function leastPlotPt({ results }: SheetContext): number {
  return HEAD_PT + LEAST_ROW_PT * plotPanels(results).rows.length
}

/**
 * Density against distance as vectors, `heightPt` high: a panel and a line style per light, the grades' limits as labelled lines. Nothing
 * without marks.
 */
export function drawDensityPlot(pen: Pen, context: SheetContext, heightPt: number): void {
  const panels = plotPanels(context.results)
  if (panels.rows.length === 0) return
  const { doc, frame } = pen
  const top = pen.y
  const keyTop = top + 15
  const from = keyTop + plotKeyHeightPt(pen, context, panels) + 3
  const rowPt = (top + heightPt - from) / panels.rows.length
  tagged(
    pen,
    'Figure',
    () => {
      const unit = context.figures.densityUnit
      const title = `Density on the reference against distance, ${unit}${context.simulated ? ' (simulated)' : ''}`
      drawLine(doc, title, frame.left, baselineBelow(top, SMALL_STRONG), SMALL_STRONG)
      drawPlotKey(pen, context, panels, keyTop)
      panels.rows.forEach((row, index) =>
        drawRow(pen, context, row, from + index * rowPt, from + (index + 1) * rowPt),
      )
    },
    {
      alt: plotInWords(context.results, context.figures),
      bbox: [frame.left, top, frame.right, top + heightPt],
    },
  )
  pen.y = top + heightPt
}

/** Panels side by side on one scale of density: its figures stand left of the first, the limits' names right of the last. */
function drawRow(
  pen: Pen,
  context: SheetContext,
  row: PlotPanels['rows'][number],
  topPt: number,
  bottomPt: number,
): void {
  const { doc } = pen
  const [left, right] = [pen.frame.left + 24, pen.frame.right - limitsWidthPt(pen, context) - 6]
  const width = (right - left - BESIDE_PT * (row.length - 1)) / row.length
  row.forEach(({ light, series }, index) => {
    const from = left + index * (width + BESIDE_PT)
    const field = plotField(context, from, from + width, topPt + PANEL_HEAD_PT, bottomPt)
    const [name = ''] = wrapText(doc, light, width, LIGHT, 1)
    drawLine(doc, name, from, topPt + PANEL_HEAD_PT - 3, LIGHT)
    drawAxes(doc, field, context, index === 0, index === row.length - 1)
    drawLimits(doc, field, context, index === row.length - 1)
    plotPromises(doc, field, context, light)
    plotSeries(doc, field, context, series)
  })
}

/** How wide the limits' names are, right of the panels. */
function limitsWidthPt(pen: Pen, { results, figures }: SheetContext): number {
  return Math.max(
    0,
    ...results.grading.grades.map((grade) => textWidthPt(pen.doc, limitLabel(grade, figures), TINY_GREY)),
  )
}

function plotField(
  context: SheetContext,
  leftPt: number,
  rightPt: number,
  topPt: number,
  bottomPt: number,
): PlotField {
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
  const bottom = bottomPt - 20
  const leastPt = promises.length === 0 ? bottom : bottom - FLAG_ROW_PT
  const ticks = Math.min(12, Math.max(2, Math.floor((rightPt - leftPt) / TICK_PT)))
  return {
    x: evenScale(Math.max(...distances, 1e-6), leftPt, rightPt, ticks),
    y: logScale(Math.min(...positive) / 1.4, Math.max(...positive) * 1.18, leastPt, topPt),
    left: leftPt,
    right: rightPt,
    top: topPt,
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

function drawAxes(
  doc: PDFKit.PDFDocument,
  field: PlotField,
  { figures }: SheetContext,
  isFirst: boolean,
  isLast: boolean,
): void {
  strokePath(doc, LINE_PT.hair, INK, [field.left, field.top], [field.left, field.bottom])
  strokePath(doc, null, INK, [field.left, field.bottom], [field.right, field.bottom])
  for (const tick of field.x.ticks) {
    const x = field.x.at(tick)
    strokePath(doc, null, INK, [x, field.bottom], [x, field.bottom + 3])
    drawLine(doc, trimmed(tick, 2), x, field.bottom + 11, TINY_GREY, 'centre')
  }
  if (isLast) drawLine(doc, figures.lengthUnit, field.right + 6, field.bottom + 11, TINY_GREY)
  for (const tick of field.y.ticks) {
    const y = field.y.at(tick)
    strokePath(doc, null, INK, [field.left - 3, y], [field.left, y])
    if (isFirst) drawLine(doc, trimmed(tick, 2), field.left - 6, y + 2, TINY_GREY, 'right')
  }
}

function drawLimits(doc: PDFKit.PDFDocument, field: PlotField, context: SheetContext, isLast: boolean): void {
  for (const grade of context.results.grading.grades) {
    const limit = context.figures.inDensityUnit(grade.limit)
    if (limit < field.y.low || limit > field.y.high) continue
    const y = field.y.at(limit)
    strokePath(doc, LINE_PT.hair, GREY, [field.left, y], [field.right, y])
    if (isLast)
      drawLine(doc, limitLabel(grade, context.figures), field.right + 5, y + 2.1, {
        ...TINY_GREY,
        colour: INK,
      })
  }
}
