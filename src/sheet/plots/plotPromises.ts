import type { PlotField } from './plotField.js'
import type { SheetContext } from '../input/sheetContext.js'
import { placeFlags } from '../../plot/placeFlags.js'
import { strokeDashed } from './seriesInk.js'
import { drawLine, textWidthPt } from '../document/text.js'
import { GREY, INK, LINE_PT, PAPER_WHITE, SIZE_PT, type TextStyle } from '../document/typography.js'
import { strokePath } from '../document/strokePath.js'

const NUMBER: TextStyle = { sizePt: SIZE_PT.tiny, face: 'semibold' }
const FLAG_PT = 9
/** Above the flags a hairline that had to step aside bends to its place within this. */
const BEND_PT = 4

/** Height of the row of flags above the distance axis, points: nothing measured is drawn into it. */
export const FLAG_ROW_PT = FLAG_PT + BEND_PT + 3

/**
 * Marks each promise in a light by its number in the list above: a flag just above the distance axis, with a dotted hairline up to its limit at its distance.
 * Promises at one distance share a flag. Drawn before what was measured, so that no hairline lies over a point.
 */
export function plotPromises(
  doc: PDFKit.PDFDocument,
  field: PlotField,
  context: SheetContext,
  light: string,
): void {
  const places = new Map<string, { x: number; limits: number[]; numbers: number[] }>()
  context.results.promises.forEach((promise, index) => {
    // What is to be read is no density.
    if (promise.kind === 'read' || promise.light !== light) return
    const x = field.x.at(context.figures.inLengthUnit(promise.distance))
    const place = places.get(x.toFixed(1)) ?? { x, limits: [], numbers: [] }
    place.limits.push(field.y.at(context.figures.inDensityUnit(promise.limit)))
    place.numbers.push(index + 1)
    places.set(x.toFixed(1), place)
  })
  const flags = [...places.values()].map((place) => {
    const text = place.numbers.join(', ')
    return { ...place, text, width: Math.max(FLAG_PT, textWidthPt(doc, text, NUMBER) + 5) }
  })
  const centres = placeFlags(flags, field.left, field.right)
  const top = field.bottom - 2 - FLAG_PT
  flags.forEach(({ x, limits, text, width }, index) => {
    const centre = centres[index] ?? x
    // Grey and dotted, with a stretch of the limit itself at its end: nothing that could be taken for an error bar.
    const upTo = Math.min(...limits)
    strokeDashed(doc, LINE_PT.hair, [0.8, 1.6], GREY, [centre, top], [x, top - BEND_PT], [x, upTo])
    doc.lineWidth(LINE_PT.frame)
    for (const y of limits) strokePath(doc, null, GREY, [x - 4, y], [x + 4, y])
    doc
      .roundedRect(centre - width / 2, top, width, FLAG_PT, FLAG_PT / 2)
      .lineWidth(LINE_PT.hair)
      .fillAndStroke(PAPER_WHITE, INK)
    drawLine(doc, text, centre, top + 6.7, NUMBER, 'centre')
  })
}
