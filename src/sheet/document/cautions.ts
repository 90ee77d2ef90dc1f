import type { Pen } from './pen.js'
import { drawList, drawSectionHead } from './prose.js'
import { tagged } from './tagged.js'
import { drawLines, lineHeightPt, wrapText } from './text.js'
import { SMALL, TINY_GREY } from './typography.js'

/** What a reader must not take the sheet for; printed on its first and last page. */
export const SHEET_CAUTIONS: readonly string[] = [
  'A grade describes picture detail, never identity.',
  'Valid for this position, these settings, this light and this day, with the subject standing still. Moving subjects blur more, most at night.',
  'This is not a certificate of compliance and not a forensic report. Local codes, contract and licensed practice come first.',
  'Contains pictures of people or number plates: share with care.',
]

/** Height the small print of the first page needs, points. */
export function firstPageCautionsPt(pen: Pen, masked: string | null): number {
  return smallPrint(pen, masked).length * lineHeightPt(TINY_GREY) + 4
}

/** The cautions as small print at the foot of the type area of the page in hand. */
export function drawFirstPageCautions(pen: Pen, masked: string | null): void {
  const lines = smallPrint(pen, masked)
  const top = pen.frame.bottom - lines.length * lineHeightPt(TINY_GREY)
  tagged(pen, 'P', () => void drawLines(pen.doc, lines, pen.frame.left, top, TINY_GREY))
}

/** The cautions as a section of the last page. */
export function drawCautionSection(pen: Pen, followPt: number, masked: string | null): void {
  drawSectionHead(pen, 'What this sheet does not say', 60 + followPt)
  drawList(pen, [...SHEET_CAUTIONS, ...(masked === null ? [] : [masked])], SMALL)
}

function smallPrint(pen: Pen, masked: string | null): string[] {
  const said = masked === null ? SHEET_CAUTIONS : [...SHEET_CAUTIONS, masked]
  return wrapText(pen.doc, said.join(' '), pen.frame.right - pen.frame.left, TINY_GREY)
}
