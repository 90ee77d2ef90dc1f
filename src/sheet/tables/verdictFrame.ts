import type { Verdict } from '../../grade/judgement.js'
import { drawLine } from '../document/text.js'
import { INK, LINE_PT, PAPER_WHITE, SIZE_PT } from '../document/typography.js'

export const VERDICT_FRAME_PT = { width: 58, height: 17 } as const

/**
 * The verdict as a word in a frame: solid (met), open (not met) or dashed (not shown), so that it reads in black and white
 * and on a poor copy. `xPt`, `yPt`: its top left corner.
 */
export function drawVerdictFrame(doc: PDFKit.PDFDocument, verdict: Verdict, xPt: number, yPt: number): void {
  const { width, height } = VERDICT_FRAME_PT
  const inset = LINE_PT.frame / 2
  doc.save().rect(xPt + inset, yPt + inset, width - 2 * inset, height - 2 * inset)
  if (verdict === 'met') doc.lineWidth(LINE_PT.frame).fillAndStroke(INK, INK)
  else if (verdict === 'not met') doc.lineWidth(LINE_PT.frame).stroke(INK)
  else doc.lineWidth(LINE_PT.rule).dash(2.6, { space: 2 }).stroke(INK)
  doc.restore()
  drawLine(
    doc,
    verdict,
    xPt + width / 2,
    yPt + height / 2 + SIZE_PT.body * 0.31,
    {
      sizePt: SIZE_PT.body,
      face: verdict === 'not shown' ? 'regular' : 'semibold',
      colour: verdict === 'met' ? PAPER_WHITE : INK,
    },
    'centre',
  )
}
