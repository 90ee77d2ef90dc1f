import type { PlannedCrop } from './cropPlan.js'
import { INK, PAPER_WHITE } from '../document/typography.js'
import { strokePath } from '../document/strokePath.js'

const GAP_PT = 1.6
const LENGTH_PT = 6

/**
 * Hairline ticks where the corners were taken: each side of the reference drawn on past its corner, outside it only, as a
 * printer's cut marks are, so that nothing of the reference is covered. White under black, to show on any ground.
 */
export function drawCornerTicks(
  doc: PDFKit.PDFDocument,
  planned: PlannedCrop,
  leftPt: number,
  topPt: number,
  cell: { readonly widthPt: number; readonly heightPt: number },
): void {
  const points = planned.still.corners.map(([x, y]): [number, number] => [
    leftPt + ((x - planned.window.left) / planned.window.width) * cell.widthPt,
    topPt + ((y - planned.window.top) / planned.window.height) * cell.heightPt,
  ])
  doc.save().rect(leftPt, topPt, cell.widthPt, cell.heightPt).clip()
  for (const [width, colour] of [
    [1.2, PAPER_WHITE],
    [0.45, INK],
  ] as const) {
    doc.lineWidth(width)
    points.forEach((corner, index) => {
      const neighbours =
        points.length === 2
          ? [points[1 - index]]
          : [points[(index + 1) % points.length], points[(index + points.length - 1) % points.length]]
      for (const neighbour of neighbours) {
        if (neighbour === undefined) continue
        const [dx, dy] = [corner[0] - neighbour[0], corner[1] - neighbour[1]]
        const length = Math.hypot(dx, dy)
        if (!(length > 0)) continue
        const [ux, uy] = [dx / length, dy / length]
        strokePath(
          doc,
          null,
          colour,
          [corner[0] + ux * GAP_PT, corner[1] + uy * GAP_PT],
          [corner[0] + ux * (GAP_PT + LENGTH_PT), corner[1] + uy * (GAP_PT + LENGTH_PT)],
        )
      }
    })
  }
  doc.restore()
}
