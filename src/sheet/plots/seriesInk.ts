import type { Point } from '../../math/point.js'
import type { DashPt, MarkerShape } from '../../plot/seriesStyle.js'
import { strokePath } from '../document/strokePath.js'
import { INK, PAPER_WHITE } from '../document/typography.js'

/** Sets a dash pattern, or none. */
export function setDash(doc: PDFKit.PDFDocument, dash: DashPt): void {
  if (dash.length === 0) doc.undash()
  // pdfkit takes a pattern where its types know a single length only.
  else doc.dash([...dash] as unknown as number, {})
}

/** Strokes a line from place to place with a dash pattern, and leaves neither pattern nor width behind. */
export function strokeDashed(
  doc: PDFKit.PDFDocument,
  widthPt: number,
  dash: DashPt,
  colour: string,
  ...places: readonly Point[]
): void {
  doc.save().lineWidth(widthPt)
  setDash(doc, dash)
  strokePath(doc, null, colour, ...places)
  doc.restore()
}

/** A marker around a point: filled for a density by pixels, open for one with detail. */
export function drawMarker(
  doc: PDFKit.PDFDocument,
  shape: MarkerShape,
  filled: boolean,
  xPt: number,
  yPt: number,
  radiusPt = 2.3,
): void {
  const r = radiusPt
  if (shape === 'circle') doc.circle(xPt, yPt, r)
  else if (shape === 'square') doc.rect(xPt - r * 0.9, yPt - r * 0.9, r * 1.8, r * 1.8)
  else if (shape === 'triangle')
    doc
      .moveTo(xPt, yPt - r * 1.15)
      .lineTo(xPt + r * 1.1, yPt + r * 0.85)
      .lineTo(xPt - r * 1.1, yPt + r * 0.85)
      .closePath()
  else
    doc
      .moveTo(xPt, yPt - r * 1.25)
      .lineTo(xPt + r * 1.25, yPt)
      .lineTo(xPt, yPt + r * 1.25)
      .lineTo(xPt - r * 1.25, yPt)
      .closePath()
  doc.lineWidth(0.8).fillAndStroke(filled ? INK : PAPER_WHITE, INK)
}
