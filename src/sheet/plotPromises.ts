import type { PlotField } from './densityPlot.js'
import type { SheetContext } from './sheetContext.js'
import { densityIn, lengthIn } from './measures.js'
import { drawLine, textWidthPt } from './text.js'
import { INK, LINE_PT, PAPER_WHITE, SIZE_PT, type TextStyle } from './typography.js'

const NUMBER: TextStyle = { sizePt: SIZE_PT.tiny, face: 'semibold' }

/** Marks each promise on its limit at its distance by its number in the list above; promises at one place share a mark. */
export function plotPromises(doc: PDFKit.PDFDocument, field: PlotField, context: SheetContext): void {
  const places = new Map<string, { x: number; y: number; numbers: number[] }>()
  context.results.promises.forEach((promise, index) => {
    const limit = densityIn(context.measures, promise.limit)
    if (!(limit >= field.y.low && limit <= field.y.high)) return
    const x = field.x.at(lengthIn(context.measures, promise.distance))
    const y = field.y.at(limit)
    const key = `${x.toFixed(1)} ${y.toFixed(1)}`
    const place = places.get(key) ?? { x, y, numbers: [] }
    place.numbers.push(index + 1)
    places.set(key, place)
  })
  for (const { x, y, numbers } of places.values()) {
    const text = numbers.join(', ')
    const width = Math.max(9, textWidthPt(doc, text, NUMBER) + 5)
    // The flag stands below its limit, with a staff up to the exact place: the curve comes from above.
    doc
      .lineWidth(LINE_PT.hair)
      .moveTo(x, y)
      .lineTo(x, y + 5)
      .stroke(INK)
    doc
      .roundedRect(x - width / 2, y + 5, width, 9, 4.5)
      .lineWidth(LINE_PT.hair)
      .fillAndStroke(PAPER_WHITE, INK)
    drawLine(doc, text, x, y + 5 + 6.7, NUMBER, 'centre')
  }
}
