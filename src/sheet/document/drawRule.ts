import type { Pen } from './pen.js'
import { artifact } from './tagged.js'
import { GREY, LINE_PT } from './typography.js'
import { strokePath } from './strokePath.js'

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
    strokePath(pen.doc, widthPt, colour, [fromPt, yPt], [toPt, yPt])
  })
}
