import { INK, LINE_PT } from '../document/typography.js'

/** One end of an interval on a strip: where it is drawn, points, and on which side of the strip it truly lies (0: on it). */
export interface IntervalEnd {
  readonly xPt: number
  readonly beyond: number
}

/** An interval as a line at height `yPt`: a bar at an end that lies on the strip, an arrow at one that goes on beyond it. */
export function drawIntervalLine(
  doc: PDFKit.PDFDocument,
  low: IntervalEnd,
  high: IntervalEnd,
  yPt: number,
): void {
  doc.lineWidth(LINE_PT.rule).moveTo(low.xPt, yPt).lineTo(high.xPt, yPt).stroke(INK)
  for (const { xPt, beyond } of [low, high])
    if (beyond === 0)
      doc
        .moveTo(xPt, yPt - 2)
        .lineTo(xPt, yPt + 2)
        .stroke(INK)
    else
      doc
        .moveTo(xPt - 2.5 * beyond, yPt - 2.2)
        .lineTo(xPt, yPt)
        .lineTo(xPt - 2.5 * beyond, yPt + 2.2)
        .stroke(INK)
}
