import type { Pen } from './pen.js'
import { artifact } from './tagged.js'
import { GREY, LINE_PT } from './typography.js'

/** A horizontal rule across the type area or between two positions, points; decoration, not content. */
export function drawRule(
  pen: Pen,
  yPt: number,
  widthPt: number = LINE_PT.hair,
  fromPt = pen.frame.left,
  toPt = pen.frame.right,
  colour = GREY,
): void {
  artifact(pen, () => {
    pen.doc.lineWidth(widthPt).moveTo(fromPt, yPt).lineTo(toPt, yPt).stroke(colour)
  })
}
