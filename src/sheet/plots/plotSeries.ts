import type { WalkResults } from '../../walk/schemas/resultsSchema.js'
import type { PlotField } from './plotField.js'
import type { SheetContext } from '../input/sheetContext.js'
import { belongsTo, type Series, seriesOf } from '../../plot/series.js'
import { drawMarker, setDash } from './seriesInk.js'
import { lightDash, referenceShape } from '../../plot/seriesStyle.js'
import { INK, LINE_PT } from '../document/typography.js'
import { strokePath } from '../document/strokePath.js'

type Mark = WalkResults['marks'][number]

/** Series at one distance stand beside one another rather than on top, this far apart, points. */
const BESIDE_PT = 2.6
/** All of them together no wider than this, points. */
const SPREAD_PT = 11

/**
 * Draws the series of one light: the interval of each mark, the density with detail as an open marker, and from mark to mark a line. References
 * carried together lie on one line, so only the one with most marks has it.
 */
export function plotSeries(
  doc: PDFKit.PDFDocument,
  field: PlotField,
  context: SheetContext,
  series: readonly Series[],
): void {
  const { lights, references } = namesOf(context.results)
  const marksOf = (one: Series): Mark[] =>
    context.results.marks.filter((mark) => belongsTo(one, mark)).sort((a, b) => a.distance - b.distance)
  const most = Math.max(...series.map((one) => marksOf(one).length))
  const lined = series.find((one) => marksOf(one).length === most)
  series.forEach((one, index) => {
    const marks = marksOf(one)
    const shape = referenceShape(references.indexOf(one.reference))
    const aside = (index - (series.length - 1) / 2) * Math.min(BESIDE_PT, SPREAD_PT / series.length)
    const place = (mark: Mark, density: number): [number, number] => [
      field.x.at(context.figures.inLengthUnit(mark.distance)) + aside,
      clampTo(field, field.y.at(context.figures.inDensityUnit(density))),
    ]
    doc.save().lineWidth(LINE_PT.rule)
    setDash(doc, lightDash(lights.indexOf(one.light)))
    const kept = marks.filter((mark) => !mark.leftOut)
    kept.forEach((mark, at) => {
      const [x, y] = place(mark, mark.density.value)
      if (at === 0) doc.moveTo(x, y)
      else doc.lineTo(x, y)
    })
    if (kept.length > 1 && one === lined) doc.stroke(INK)
    doc.restore()
    for (const mark of marks) drawMark(doc, mark, place, shape)
  })
}

/** The walk's lights and references in order: a line style and a marker each. */
export function namesOf(results: WalkResults): {
  readonly lights: readonly string[]
  readonly references: readonly string[]
} {
  const series = seriesOf(results)
  return {
    lights: [...new Set(series.map(({ light }) => light))],
    references: [...new Set(series.map(({ reference }) => reference))],
  }
}

function drawMark(
  doc: PDFKit.PDFDocument,
  mark: Mark,
  place: (mark: Mark, density: number) => [number, number],
  shape: ReturnType<typeof referenceShape>,
): void {
  const [x, y] = place(mark, mark.density.value)
  const detail = mark.effectiveDensity
  if (detail !== null) {
    const [, yDetail] = place(mark, detail.value)
    // Open and filled markers that would cover one another say the same: then the filled one stands for both.
    if (Math.abs(yDetail - y) > 3.5) {
      drawInterval(doc, x, place(mark, detail.low ?? detail.value)[1], place(mark, detail.high)[1])
      drawMarker(doc, shape, false, x, yDetail)
    }
  }
  drawInterval(doc, x, place(mark, mark.density.low)[1], place(mark, mark.density.high)[1])
  drawMarker(doc, shape, !mark.leftOut, x, y)
  if (!mark.leftOut) return
  doc.lineWidth(LINE_PT.rule)
  strokePath(doc, null, INK, [x - 4.5, y - 4.5], [x + 4.5, y + 4.5])
  strokePath(doc, null, INK, [x - 4.5, y + 4.5], [x + 4.5, y - 4.5])
}

function drawInterval(doc: PDFKit.PDFDocument, x: number, yLow: number, yHigh: number): void {
  strokePath(doc, LINE_PT.hair, INK, [x, yLow], [x, yHigh])
  for (const y of [yLow, yHigh]) strokePath(doc, null, INK, [x - 1.8, y], [x + 1.8, y])
}

function clampTo(field: PlotField, y: number): number {
  const lowest = field.y.at(field.y.low)
  return Number.isFinite(y) ? Math.min(lowest, Math.max(field.top, y)) : lowest
}
