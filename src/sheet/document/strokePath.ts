import type { Point } from '../../math/point.js'

/** Strokes straight lines from place to place of the page, points; a width of null leaves the one that is set. */
export function strokePath(
  doc: PDFKit.PDFDocument,
  widthPt: number | null,
  colour: string,
  ...places: readonly Point[]
): void {
  if (widthPt !== null) doc.lineWidth(widthPt)
  places.forEach((place, at) => (at === 0 ? doc.moveTo(...place) : doc.lineTo(...place)))
  doc.stroke(colour)
}
