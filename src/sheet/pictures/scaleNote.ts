import type { PlannedTable } from './cropPlan.js'
import { trimmed } from '../../units/figures.js'
import type { Pen } from '../document/pen.js'
import { LABEL_PT, type PictureSizes } from './pictureSizes.js'
import type { SheetContext } from '../input/sheetContext.js'
import { artifact, tagged } from '../document/tagged.js'
import { baselineBelow, drawLine, drawLines, lineHeightPt, wrapText } from '../document/text.js'
import { INK, LINE_PT, SMALL, SMALL_GREY, TINY_GREY } from '../document/typography.js'
import { strokePath } from '../document/strokePath.js'

const FULL =
  'Every picture of this table is cut at one physical scale. Corner ticks: where the reference was taken. ' +
  'Below each: density, its 95 % interval, grade.'
const SHORT = 'This table has the scale of its own bar.'

/** Says that one scale holds for the whole table, and draws a length at it. */
export function drawScaleNote(
  pen: Pen,
  { figures }: SheetContext,
  table: PlannedTable,
  sizes: PictureSizes,
  isFirst: boolean,
): void {
  const barM = figures.isMetric ? (table.windowWidthM > 0.6 ? 0.5 : 0.1) : 0.3048
  const barPt = (barM / table.windowWidthM) * sizes.widthPt
  const label = figures.isMetric ? `${trimmed(barM, 1)} m` : '1 ft'
  const left = pen.frame.left + LABEL_PT
  const right = pen.frame.right
  const lines = wrapText(pen.doc, isFirst ? FULL : SHORT, right - left - barPt - 40, SMALL_GREY)
  tagged(pen, 'P', () => void drawLines(pen.doc, lines, left, pen.y, SMALL_GREY))
  const y = baselineBelow(pen.y, SMALL)
  artifact(pen, () => {
    strokePath(
      pen.doc,
      LINE_PT.rule,
      INK,
      [right - barPt, y - 6],
      [right - barPt, y - 3],
      [right, y - 3],
      [right, y - 6],
    )
    drawLine(pen.doc, label, right - barPt / 2, y + 6, TINY_GREY, 'centre')
  })
  pen.y += 2 * lineHeightPt(SMALL) + 5
}
