import type { PlannedTable } from './cropPlan.js'
import type { Pen } from '../document/pen.js'
import { lineHeightPt } from '../document/text.js'
import { SMALL, TINY_GREY } from '../document/typography.js'

/** Sizes of a picture table, points. */
export interface PictureSizes {
  /** A picture. */
  readonly widthPt: number
  readonly heightPt: number
  /** A column, which may be wider than its picture. */
  readonly columnPt: number
  readonly captionPt: number
  /** A row with its caption and the gap below it. */
  readonly rowPt: number
  /** How many marks stand side by side: more than one only where there is a single column. */
  readonly bands: number
  readonly bandPt: number
}

/** Room for the mark's distance before its pictures, points. */
export const LABEL_PT = 38
export const GUTTER_PT = 11
const BANDS = 3
const TALLEST_PT = 118
const WIDEST_PT = 168
const LEAST_COLUMN_PT = 84
const ROW_GAP_PT = 11
const LEAST_SHRUNK = 0.58

/** The sizes of a table: pictures as large as the columns of the widest of them allow, a little smaller where all rows, or one more, then fit a page. */
export function pictureSizes(
  pen: Pen,
  table: PlannedTable,
  hasNotes: boolean,
  isParted: boolean,
  mostColumns: number,
): PictureSizes {
  const measure = pen.frame.right - pen.frame.left
  const bands = table.columns.length === 1 && table.rows.length > BANDS ? BANDS : 1
  const bandPt = (measure - (bands - 1) * GUTTER_PT) / bands
  const columns = mostColumns
  const widest = (bandPt - LABEL_PT - (columns - 1) * GUTTER_PT) / columns
  const aspect = table.windowHeightM / table.windowWidthM
  const widthPt = Math.min(widest, WIDEST_PT, TALLEST_PT / aspect)
  const captionPt = 2 * lineHeightPt(SMALL) + 3 + (hasNotes ? lineHeightPt(TINY_GREY) : 0)
  const shrink = shrinkToPage(pen, widthPt * aspect, captionPt, table.rows.length / bands, isParted)
  const heightPt = widthPt * aspect * shrink
  return {
    widthPt: widthPt * shrink,
    heightPt,
    // Captions need their room even below a narrow picture of a staff.
    columnPt: Math.max(widthPt, Math.min(widest, LEAST_COLUMN_PT)),
    captionPt,
    rowPt: heightPt + captionPt + ROW_GAP_PT,
    bands,
    bandPt,
  }
}

// Rather than an empty strip at the page's foot.
function shrinkToPage(
  pen: Pen,
  heightPt: number,
  captionPt: number,
  rows: number,
  isParted: boolean,
): number {
  const headsPt = isParted ? 118 : 84
  const room = pen.frame.bottom - pen.frame.top - headsPt + ROW_GAP_PT
  const around = captionPt + ROW_GAP_PT
  const fitting = Math.floor(room / (heightPt + around))
  if (rows <= fitting) return 1
  const shrunk = (fitted: number): number => (room / fitted - around) / heightPt
  return [rows, fitting + 1].map(shrunk).find((shrink) => shrink >= LEAST_SHRUNK) ?? 1
}
