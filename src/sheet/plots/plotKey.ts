import { isSameMark } from '../../walk/read/sameMark.js'
import type { WalkResults } from '../../walk/schemas/resultsSchema.js'
import type { SheetContext } from '../input/sheetContext.js'
import type { Pen } from '../document/pen.js'
import { belongsTo } from '../../plot/series.js'
import type { PlotPanels } from './plotPanels.js'
import { namesOf } from './plotSeries.js'
import { drawMarker } from './seriesInk.js'
import { referenceShape } from '../../plot/seriesStyle.js'
import { drawLine, textWidthPt } from '../document/text.js'
import { INK, LINE_PT, TINY_GREY } from '../document/typography.js'
import { strokePath } from '../document/strokePath.js'

type Mark = WalkResults['marks'][number]

const GAP_PT = 14
const ROW_PT = 10.5

interface Entry {
  readonly text: string
  readonly sampleWidth: number
  draw(doc: PDFKit.PDFDocument, x: number, y: number): void
}

/** Height of the plot's key, points. */
export function plotKeyHeightPt(pen: Pen, context: SheetContext, panels: PlotPanels): number {
  return placed(pen, entriesOf(context, panels)).rows * ROW_PT
}

/** The plot's key: a marker per reference, and what open, crossed and numbered marks mean, where there are any. */
export function drawPlotKey(pen: Pen, context: SheetContext, panels: PlotPanels, topPt: number): void {
  for (const { entry, x, row } of placed(pen, entriesOf(context, panels)).entries) {
    const y = topPt + row * ROW_PT + 6
    entry.draw(pen.doc, x, y)
    drawLine(pen.doc, entry.text, x + entry.sampleWidth + 4, y + 2.2, { ...TINY_GREY, colour: INK })
  }
}

function placed(
  pen: Pen,
  entries: readonly Entry[],
): { entries: { entry: Entry; x: number; row: number }[]; rows: number } {
  let x = pen.frame.left
  let row = 0
  const out = entries.map((entry) => {
    const width = entry.sampleWidth + 4 + textWidthPt(pen.doc, entry.text, TINY_GREY)
    if (x > pen.frame.left && x + width > pen.frame.right) {
      x = pen.frame.left
      row += 1
    }
    const here = { entry, x, row }
    x += width + GAP_PT
    return here
  })
  return { entries: out, rows: row + 1 }
}

function entriesOf({ results }: SheetContext, { rows, isAll }: PlotPanels): Entry[] {
  const { references } = namesOf(results)
  const series = rows.flat().flatMap((panel) => panel.series)
  const marks = results.marks.filter((mark) => series.some((one) => belongsTo(one, mark)))
  const entries: Entry[] = references
    .filter((name) => series.some(({ reference }) => reference === name))
    .map((name) => ({
      text: name,
      sampleWidth: 5,
      draw: (doc, x, y) => drawMarker(doc, referenceShape(references.indexOf(name)), true, x + 2.5, y),
    }))
  if (marks.some((mark) => mark.effectiveDensity !== null)) {
    entries.push({
      text: 'filled: by pixels, open: with detail',
      sampleWidth: 5,
      draw: (doc, x, y) => drawMarker(doc, 'circle', false, x + 2.5, y),
    })
  }
  if (marks.some((mark) => mark.leftOut)) {
    entries.push({ text: 'crossed: left out', sampleWidth: 9, draw: drawCrossed })
  }
  if (results.promises.some(({ kind }) => kind !== 'read')) {
    entries.push({
      text: 'numbered: promises, up to their limit',
      sampleWidth: 9,
      draw: (doc, x, y) => {
        doc
          .roundedRect(x, y - 4.5, 9, 9, 4.5)
          .lineWidth(LINE_PT.hair)
          .stroke(INK)
      },
    })
  }
  if (standBeside(marks)) {
    entries.push({ text: 'marks at one distance stand side by side', sampleWidth: -4, draw: () => undefined })
  }
  if (!isAll) entries.push({ text: 'all marks: in the tables', sampleWidth: -4, draw: () => undefined })
  return entries
}

/** Whether several series of one light have a mark at one distance. */
function standBeside(marks: readonly Mark[]): boolean {
  return marks.some((mark, index) =>
    marks
      .slice(index + 1)
      .some((other) => other.light === mark.light && isSameMark(other.distance, mark.distance)),
  )
}

function drawCrossed(doc: PDFKit.PDFDocument, x: number, y: number): void {
  drawMarker(doc, 'circle', false, x + 4.5, y)
  strokePath(doc, LINE_PT.rule, INK, [x, y - 4.5], [x + 9, y + 4.5])
  strokePath(doc, null, INK, [x, y + 4.5], [x + 9, y - 4.5])
}
