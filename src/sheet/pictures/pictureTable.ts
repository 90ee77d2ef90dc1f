import { cropPlan, type PlannedRow, type PlannedTable } from './cropPlan.js'
import { drawFailedCell } from './failedCell.js'
import { drawRule } from '../document/drawRule.js'
import { ensureRoom, type Pen, roomLeftPt, turnPage } from '../document/pen.js'
import { drawPictureCell } from './pictureCell.js'
import { drawPictureRemarks } from './pictureRemarks.js'
import { GUTTER_PT, LABEL_PT, type PictureSizes, pictureSizes } from './pictureSizes.js'
import { drawSectionHead, drawSubhead } from '../document/prose.js'
import { drawScaleNote } from './scaleNote.js'
import { type Series, seriesText } from '../../plot/series.js'
import { entryKey } from '../../walk/schemas/resultsSchema.js'
import type { SheetContext } from '../input/sheetContext.js'
import type { SheetCrop } from '../input/sheetInput.js'
import { artifact, tagged, within } from '../document/tagged.js'
import { baselineBelow, drawLine, lineHeightPt, wrapText } from '../document/text.js'
import { LINE_PT, LEAD_STRONG, SMALL_GREY, SMALL_STRONG, TINY_GREY } from '../document/typography.js'

const MOST_COLUMNS = 5
const HEADS_PT = 60

/**
 * The picture table: a row per mark, a column per light and reference, every picture at the table's one physical scale. More than
 * five columns are shared out over further tables; with a single column, three marks stand side by side.
 */
export function drawPictureSection(pen: Pen, context: SheetContext, crops: readonly SheetCrop[]): void {
  const tables = cropPlan(context.results).flatMap(partsOf)
  if (tables.length === 0) return
  const byEntry = new Map(crops.map((crop) => [entryKey(crop), crop]))
  drawSectionHead(pen, 'What the camera saw', 150)
  const mostColumns = Math.max(...tables.map(({ columns }) => columns.length))
  tables.forEach((table, index) => {
    const sizes = pictureSizes(pen, table, hasNotes(table), tables.length > 1, mostColumns)
    if (tables.length > 1) drawSubhead(pen, table.columns.map(seriesText).join(' · '), sizes.rowPt + HEADS_PT)
    else ensureRoom(pen, sizes.rowPt + HEADS_PT)
    drawScaleNote(pen, context, table, sizes, index === 0)
    drawTable(pen, context, table, sizes, byEntry)
  })
}

function partsOf(table: PlannedTable): PlannedTable[] {
  const parts: PlannedTable[] = []
  const count = Math.ceil(table.columns.length / MOST_COLUMNS)
  const each = Math.max(1, Math.ceil(table.columns.length / count))
  for (let from = 0; from < table.columns.length; from += each) {
    const columns = table.columns.slice(from, from + each)
    const rows = table.rows
      .map((row) => ({
        ...row,
        cells: row.cells.slice(from, from + each),
        failed: row.failed.slice(from, from + each),
      }))
      .filter((row) => [...row.cells, ...row.failed].some((cell) => cell !== null))
    if (rows.length > 0) parts.push({ ...table, columns, rows })
  }
  return parts
}

/** Whether any caption of the table has a third line to print. */
function hasNotes(table: PlannedTable): boolean {
  return table.rows.some(({ cells }) => cells.some((cell) => cell !== null && cell.stillCount > 1))
}

function drawTable(
  pen: Pen,
  context: SheetContext,
  table: PlannedTable,
  sizes: PictureSizes,
  crops: ReadonlyMap<string, SheetCrop>,
): void {
  within(pen, 'Table', () => {
    drawHeads(pen, table.columns, sizes, true)
    table.rows.forEach((row, index) => {
      const band = index % sizes.bands
      if (band === 0 && index > 0) pen.y += sizes.rowPt
      if (band === 0 && roomLeftPt(pen) < sizes.heightPt + sizes.captionPt) {
        turnPage(pen)
        drawHeads(pen, table.columns, sizes, false)
      }
      drawRow(
        pen,
        context,
        table.columns,
        row,
        pen.frame.left + band * (sizes.bandPt + GUTTER_PT),
        sizes,
        crops,
      )
    })
    pen.y += sizes.rowPt
  })
}

function drawRow(
  pen: Pen,
  context: SheetContext,
  columns: readonly Series[],
  row: PlannedRow,
  leftPt: number,
  sizes: PictureSizes,
  crops: ReadonlyMap<string, SheetCrop>,
): void {
  within(pen, 'TR', () => {
    const figure = context.figures.bareDistance(row.distanceM)
    tagged(
      pen,
      'TH',
      () => {
        drawLine(pen.doc, `${figure} `, leftPt, baselineBelow(pen.y, LEAD_STRONG) - 3, LEAD_STRONG)
        drawLine(pen.doc, context.figures.lengthUnit, leftPt, pen.y + 22, SMALL_GREY)
      },
      { scope: 'Row' },
    )
    row.cells.forEach((cell, index) => {
      const series = columns[index]
      if (series === undefined) return
      const failed = row.failed[index] ?? null
      if (cell === null && failed !== null) {
        drawFailedCell(pen, failed, columnLeft(leftPt, sizes, index), sizes)
        return
      }
      const crop = cell === null ? undefined : crops.get(entryKey(cell.still))
      drawPictureCell(
        pen,
        context,
        series,
        row.distanceM,
        cell,
        crop,
        columnLeft(leftPt, sizes, index),
        sizes,
      )
    })
    if (sizes.bands > 1) return
    const beside = columnLeft(leftPt, sizes, columns.length) + 4
    drawPictureRemarks(pen, context, columns, row.distanceM, beside, sizes.heightPt + sizes.captionPt)
  })
}

function columnLeft(leftPt: number, sizes: PictureSizes, index: number): number {
  return leftPt + LABEL_PT + index * (sizes.columnPt + GUTTER_PT)
}

function drawHeads(pen: Pen, columns: readonly Series[], sizes: PictureSizes, isFirst: boolean): void {
  const baseline = baselineBelow(pen.y, SMALL_STRONG)
  const drawOne = (series: Series, index: number): void => {
    const [text = ''] = wrapText(pen.doc, seriesText(series), sizes.columnPt, SMALL_STRONG, 1)
    drawLine(pen.doc, text, columnLeft(pen.frame.left, sizes, index), baseline, SMALL_STRONG)
  }
  const drawMark = (): void => drawLine(pen.doc, 'Mark', pen.frame.left, baseline, TINY_GREY)
  if (isFirst) {
    within(pen, 'TR', () => {
      tagged(pen, 'TH', drawMark, { scope: 'Column' })
      columns.forEach((series, index) => tagged(pen, 'TH', () => drawOne(series, index), { scope: 'Column' }))
    })
  } else {
    artifact(pen, () => [drawMark(), ...columns.map(drawOne)], 'Pagination')
  }
  pen.y += lineHeightPt(SMALL_STRONG) + 2
  drawRule(pen, pen.y, LINE_PT.hair)
  pen.y += 6
}
