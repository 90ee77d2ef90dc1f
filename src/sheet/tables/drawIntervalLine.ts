import { INK, LINE_PT } from '../document/typography.js'
import { strokePath } from '../document/strokePath.js'

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
  strokePath(doc, LINE_PT.rule, INK, [low.xPt, yPt], [high.xPt, yPt])
  for (const { xPt, beyond } of [low, high])
    if (beyond === 0) strokePath(doc, null, INK, [xPt, yPt - 2], [xPt, yPt + 2])
    else
      strokePath(doc, null, INK, [xPt - 2.5 * beyond, yPt - 2.2], [xPt, yPt], [xPt - 2.5 * beyond, yPt + 2.2])
}
