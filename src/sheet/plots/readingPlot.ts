import type { Point } from '../../math/point.js'
import { evenScale, type PlotScale } from '../../plot/plotScales.js'
import { shareWhere } from '../../trial/readingCurve.js'
import { shareText } from '../../units/printedShare.js'
import type { WalkResults } from '../../walk/schemas/resultsSchema.js'
import type { Pen } from '../document/pen.js'
import { strokePath } from '../document/strokePath.js'
import { tagged } from '../document/tagged.js'
import { drawLine } from '../document/text.js'
import { GREY, INK, LINE_PT, TINY_GREY } from '../document/typography.js'
import type { SheetContext } from '../input/sheetContext.js'
import { drawMarker, strokeDashed } from './seriesInk.js'

type Reading = WalkResults['readings'][number]

export const READING_PLOT_PT = 128
const WIDTH_PT = 300
const STEPS = 60

/** The share of characters read against distance: every mark with its interval, the curve, and how far out 95 % and half are read, with theirs. */
export function drawReadingPlot(pen: Pen, { figures }: SheetContext, reading: Reading): void {
  const { doc, frame } = pen
  const { marks, curve, read50, read95 } = reading
  const top = pen.y + 4
  const bottom = top + READING_PLOT_PT - 24
  const left = frame.left + 24
  const length = figures.inLengthUnit
  const x = evenScale(Math.max(...marks.map(({ distance }) => length(distance))), left, left + WIDTH_PT, 10)
  const y = evenScale(1 / 1.06, bottom, top, 5)
  tagged(
    pen,
    'Figure',
    () => {
      drawAxes(doc, x, y, { left, right: left + WIDTH_PT, top, bottom }, figures.lengthUnit)
      if (curve !== null) {
        const fitted = { guess: curve.guess, halfM: curve.half, steepness: curve.steepness }
        const [nearest, farthest] = [marks[0]!.distance, marks.at(-1)!.distance]
        const places = Array.from({ length: STEPS + 1 }, (_, step): Point => {
          const distanceM = nearest + ((farthest - nearest) * step) / STEPS
          return [x.at(length(distanceM)), y.at(shareWhere(fitted, distanceM))]
        })
        strokeDashed(doc, LINE_PT.rule, [], INK, ...places)
      }
      for (const { distance, share, low, high } of marks) {
        const at = x.at(length(distance))
        strokePath(doc, LINE_PT.frame, INK, [at, y.at(low)], [at, y.at(high)])
        drawMarker(doc, 'circle', true, at, y.at(share))
      }
      for (const [read, share] of [
        [read95, 0.95],
        [read50, 0.5],
      ] as const) {
        if (read === null) continue
        const [low, high] = [read.low, read.high].map((end) => Math.min(left + WIDTH_PT, x.at(length(end))))
        strokePath(doc, LINE_PT.frame, GREY, [low!, y.at(share)], [high!, y.at(share)])
        for (const end of [low!, high!])
          strokePath(doc, null, GREY, [end, y.at(share) - 3], [end, y.at(share) + 3])
        drawLine(doc, shareText(share), left + WIDTH_PT + 6, y.at(share) + 2, TINY_GREY)
      }
    },
    { alt: altText(reading, figures), bbox: [frame.left, top, frame.right, top + READING_PLOT_PT] },
  )
  pen.y = top + READING_PLOT_PT
}

function drawAxes(
  doc: PDFKit.PDFDocument,
  x: PlotScale,
  y: PlotScale,
  field: { readonly left: number; readonly right: number; readonly top: number; readonly bottom: number },
  unit: string,
): void {
  const { left, right, top, bottom } = field
  strokePath(doc, LINE_PT.hair, INK, [left, top], [left, bottom], [right, bottom])
  for (const tick of x.ticks) {
    strokePath(doc, null, INK, [x.at(tick), bottom], [x.at(tick), bottom + 3])
    drawLine(doc, String(tick), x.at(tick), bottom + 11, TINY_GREY, 'centre')
  }
  for (const tick of y.ticks) {
    strokePath(doc, null, INK, [left - 3, y.at(tick)], [left, y.at(tick)])
    drawLine(doc, String(Math.round(100 * tick)), left - 6, y.at(tick) + 2, TINY_GREY, 'right')
  }
  drawLine(
    doc,
    `% of characters read against distance, ${unit}; upright lines: each mark; grey lines: the distance itself; all 95 %`,
    left,
    bottom + 20,
    TINY_GREY,
  )
}

function altText({ marks }: Reading, figures: SheetContext['figures']): string {
  const told = marks.map(({ distance, share }) => `${figures.distance(distance)}: ${shareText(share)}`)
  return `Plot of characters read against distance. ${told.join('; ')}.`
}
