import { ensureRoom, type Pen } from './pen.js'
import { baselineBelow, drawLine, drawLines, lineHeightPt, wrapText } from './text.js'
import { drawRule } from './drawRule.js'
import { tagged, within } from './tagged.js'
import { BODY, BODY_STRONG, GREY, INK, LEAD_STRONG, LINE_PT, type TextStyle } from './typography.js'

/** A section's head with a rule above it; keeps `followPt` of room for what comes below. Also a bookmark. */
export function drawSectionHead(pen: Pen, text: string, followPt: number): void {
  if (pen.y > pen.frame.top) pen.y += 20
  ensureRoom(pen, 30 + followPt)
  drawRule(pen, pen.y, LINE_PT.rule, pen.frame.left, pen.frame.right, INK)
  pen.doc.outline.addItem(text)
  tagged(pen, 'H2', () => drawLine(pen.doc, text, pen.frame.left, pen.y + 18, LEAD_STRONG))
  pen.y += 28
}

/** A head within a section. */
export function drawSubhead(pen: Pen, text: string, followPt: number): void {
  const lines = wrapText(pen.doc, text, pen.frame.right - pen.frame.left, BODY_STRONG, 3)
  ensureRoom(pen, 9 + lines.length * lineHeightPt(BODY_STRONG) + followPt)
  pen.y += 6
  tagged(pen, 'H3', () => void drawLines(pen.doc, lines, pen.frame.left, pen.y, BODY_STRONG))
  pen.y += lines.length * lineHeightPt(BODY_STRONG) + 3
}

/** A text that stays on one page, over the measure given, cut after `mostLines`. */
export function drawBlock(
  pen: Pen,
  type: 'H1' | 'H3' | 'P',
  text: string,
  style: TextStyle,
  { gapPt = 0, mostLines = Infinity, widthPt = pen.frame.right - pen.frame.left } = {},
): void {
  const lines = wrapText(pen.doc, text, widthPt, style, mostLines)
  tagged(pen, type, () => void drawLines(pen.doc, lines, pen.frame.left, pen.y, style))
  pen.y += lines.length * lineHeightPt(style) + gapPt
}

/** A paragraph over the measure given; it goes on over pages, each part a paragraph of its own. */
export function drawParagraph(
  pen: Pen,
  text: string,
  style: TextStyle = BODY,
  widthPt = pen.frame.right - pen.frame.left,
): void {
  let lines = wrapText(pen.doc, text, widthPt, style)
  while (lines.length > 0) {
    ensureRoom(pen, Math.min(lines.length, 2) * lineHeightPt(style))
    const fitting = Math.max(1, Math.floor((pen.frame.bottom - pen.y) / lineHeightPt(style)))
    const now = lines.slice(0, fitting)
    tagged(pen, 'P', () => void drawLines(pen.doc, now, pen.frame.left, pen.y, style))
    pen.y += now.length * lineHeightPt(style)
    lines = lines.slice(fitting)
  }
  pen.y += 4
}

/** A list with a dash before each item. */
export function drawList(pen: Pen, items: readonly string[], style: TextStyle = BODY): void {
  const indentPt = 11
  within(pen, 'L', () => {
    for (const item of items) {
      const lines = wrapText(pen.doc, item, pen.frame.right - pen.frame.left - indentPt, style)
      ensureRoom(pen, lines.length * lineHeightPt(style))
      within(pen, 'LI', () => {
        const dash = { ...style, colour: GREY }
        tagged(pen, 'Lbl', () => drawLine(pen.doc, '–', pen.frame.left, baselineBelow(pen.y, style), dash))
        tagged(pen, 'LBody', () => void drawLines(pen.doc, lines, pen.frame.left + indentPt, pen.y, style))
      })
      pen.y += lines.length * lineHeightPt(style) + 2.5
    }
  })
  pen.y += 3
}
