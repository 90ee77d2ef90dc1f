import { INK, PAPER_WHITE } from './typography.js'

/** A dash pattern in points: on, off, on, off; empty for a solid line. */
export type DashPt = readonly number[]

const DASHES: readonly DashPt[] = [
  [],
  [5, 2.2],
  [1, 1.8],
  [7, 2, 1.2, 2],
  [9, 3],
  [3, 1.4],
  [7, 1.8, 1.2, 1.8, 1.2, 1.8],
  [2, 3],
]

const SHAPES = ['circle', 'square', 'triangle', 'diamond'] as const
export type MarkerShape = (typeof SHAPES)[number]

/** The line style of the nth light. */
export function lightDash(index: number): DashPt {
  return DASHES[index % DASHES.length] ?? []
}

/** The marker of the nth reference. */
export function referenceShape(index: number): MarkerShape {
  return SHAPES[index % SHAPES.length] ?? 'circle'
}

/** Sets a dash pattern, or none. */
export function setDash(doc: PDFKit.PDFDocument, dash: DashPt): void {
  if (dash.length === 0) doc.undash()
  // pdfkit takes a pattern where its types know a single length only.
  else doc.dash([...dash] as unknown as number, {})
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
