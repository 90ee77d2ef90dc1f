import type { Point } from '../../math/point.js'

/** Strokes straight lines from place to place of the page, points; a width of null leaves the one that is set. */
export function strokePath(
  doc: PDFKit.PDFDocument,
  widthPt: number | null,
  colour: string,
  from: Point,
  ...to: readonly Point[]
): void {
  if (widthPt !== null) doc.lineWidth(widthPt)
  doc.moveTo(...from)
  for (const place of to) doc.lineTo(...place)
  doc.stroke(colour)
}
