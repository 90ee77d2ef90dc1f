import type { MaybeBound } from '../../math/interval.js'
import { drawIntervalLine, type IntervalEnd } from './drawIntervalLine.js'
import { INK, PAPER_WHITE } from '../document/typography.js'

// The strip spans half the limit to twice the limit, on a logarithmic scale (this project's convention).
const SPAN = 2

/** Where a density lies on the strip, 0 (half the limit or less) to 1 (twice the limit or more). */
export function whiskerPosition(densityPxPerM: number, limitPxPerM: number): number {
  const share = 0.5 + Math.log(densityPxPerM / limitPxPerM) / (2 * Math.log(SPAN))
  return Math.min(1, Math.max(0, share))
}

/** An interval (of an upper bound from its value on) as a line and its value as a dot (filled: by pixels; open: with detail) on a strip of `widthPt`. */
export function drawWhisker(
  doc: PDFKit.PDFDocument,
  estimate: MaybeBound,
  limitPxPerM: number,
  kind: 'pixels' | 'detail',
  xPt: number,
  yPt: number,
  widthPt: number,
): void {
  const at = (density: number): number => xPt + whiskerPosition(density, limitPxPerM) * widthPt
  const end = (density: number): IntervalEnd => ({
    xPt: at(density),
    beyond: density < limitPxPerM / SPAN ? -1 : density > limitPxPerM * SPAN ? 1 : 0,
  })
  drawIntervalLine(doc, end(estimate.low ?? estimate.value), end(estimate.high), yPt)
  const value = estimate.value
  if (value < limitPxPerM / SPAN || value > limitPxPerM * SPAN) return
  doc.circle(at(value), yPt, 2).fillAndStroke(kind === 'pixels' ? INK : PAPER_WHITE, INK)
}
