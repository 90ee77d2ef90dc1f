import type { FailedEntry } from '../../walk/schemas/resultsSchema.js'
import { asSentence } from '../../sentences.js'
import type { Pen } from '../document/pen.js'
import type { PictureSizes } from './pictureSizes.js'
import { setDash } from '../plots/seriesInk.js'
import { tagged, within } from '../document/tagged.js'
import { baselineBelow, drawLines, drawLine, lineHeightPt, wrapText } from '../document/text.js'
import { GREY, LINE_PT, SMALL, SMALL_STRONG, TINY_GREY } from '../document/typography.js'

const INSET_PT = 5
/** A box may be this wide in the place of a narrower picture. */
const LEAST_WIDTH_PT = 84
const MOST_REASON_LINES = 7

/** In place of a picture: a dashed box that says that a still was not measured, why, and which file it is. */
export function drawFailedCell(pen: Pen, failed: FailedEntry, leftPt: number, size: PictureSizes): void {
  const { doc } = pen
  const width = Math.max(size.widthPt, Math.min(size.columnPt, LEAST_WIDTH_PT))
  within(pen, 'TD', () => {
    tagged(pen, 'P', () => {
      doc.save()
      setDash(doc, [3, 2])
      doc.lineWidth(LINE_PT.hair).rect(leftPt, pen.y, width, size.heightPt).stroke(GREY)
      doc.restore()
      const room = width - 2 * INSET_PT
      const left = leftPt + INSET_PT
      const top = pen.y + INSET_PT
      drawLine(doc, 'not measured', left, baselineBelow(top, SMALL_STRONG), SMALL_STRONG)
      const below = top + lineHeightPt(SMALL_STRONG) + 1
      const fitting = Math.floor((pen.y + size.heightPt - INSET_PT - below) / lineHeightPt(SMALL))
      const lines = wrapText(doc, reason(failed.message), room, SMALL, Math.min(fitting, MOST_REASON_LINES))
      drawLines(doc, lines, left, below, SMALL)
      const [file = ''] = wrapText(doc, failed.file, width, TINY_GREY, 1)
      drawLine(doc, file, leftPt, baselineBelow(pen.y + size.heightPt + 2, TINY_GREY), TINY_GREY)
    })
  })
}

/** What is wrong, without the mend, which stands beside the file in the list of those not measured. */
function reason(message: string): string {
  return asSentence(message.split(';')[0] ?? message)
}
