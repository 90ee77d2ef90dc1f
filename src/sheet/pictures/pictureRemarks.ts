import { isSameMark } from '../../walk/read/sameMark.js'
import type { Pen } from '../document/pen.js'
import { belongsTo, type Series, seriesText } from '../../plot/series.js'
import type { SheetContext } from '../input/sheetContext.js'
import { tagged } from '../document/tagged.js'
import { drawLines, lineHeightPt, wrapText } from '../document/text.js'
import { SMALL } from '../document/typography.js'

const LEAST_WIDTH_PT = 90

/** Where a row's pictures leave room beside them: what is to be said about its marks. */
export function drawPictureRemarks(
  pen: Pen,
  { results }: SheetContext,
  columns: readonly Series[],
  distanceM: number,
  leftPt: number,
  heightPt: number,
): void {
  const width = pen.frame.right - leftPt
  if (width < LEAST_WIDTH_PT) return
  const remarks = columns.flatMap((series) =>
    results.marks.filter(
      (mark) => belongsTo(series, mark) && isSameMark(mark.distance, distanceM) && mark.why !== '',
    ),
  )
  if (remarks.length === 0) return
  const most = Math.max(1, Math.floor(heightPt / lineHeightPt(SMALL) / remarks.length))
  tagged(pen, 'TD', () => {
    let y = pen.y - 2
    for (const mark of remarks) {
      const text = columns.length > 1 ? `${seriesText(mark)}: ${mark.why}` : mark.why
      y += drawLines(pen.doc, wrapText(pen.doc, text, width, SMALL, most), leftPt, y, SMALL) + 3
    }
  })
}
