import { cropPlan, type PlannedTable } from './cropPlan.js'
import { drawPictureCell, isLeftOut, type PictureCellSize } from './pictureCell.js'
import { distanceFigure, trimmed } from './measures.js'
import { ensureRoom, type Pen, roomLeftPt, turnPage } from './pen.js'
import { drawSectionHead, drawSubhead } from './prose.js'
import { isSameMark } from '../walk/sameMark.js'
import { type Series, seriesText } from './series.js'
import type { SheetContext } from './sheetContext.js'
import type { SheetCrop } from './sheetInput.js'
import { drawRule } from './drawRule.js'
import { artifact, tagged, within } from './tagged.js'
import { baselineBelow, drawLine, drawLines, lineHeightPt, wrapText } from './text.js'
import { LINE_PT, SIZE_PT, SMALL, SMALL_GREY, SMALL_STRONG, type TextStyle, TINY_GREY } from './typography.js'

const MOST_COLUMNS = 4
const LABEL_PT = 38
const GUTTER_PT = 11
const TALLEST_PT = 118
const WIDEST_PT = 168
const ROW_GAP_PT = 11
const LEAST_SHRUNK = 0.78
const DISTANCE: TextStyle = { sizePt: SIZE_PT.lead, face: 'semibold' }

/** The picture table: a row per mark, a column per light and reference, every picture at the table's one physical scale. */
export function drawPictureSection(pen: Pen, context: SheetContext, crops: readonly SheetCrop[]): void {
  const tables = cropPlan(context.results)
  if (tables.length === 0) return
  const byFile = new Map(crops.map((crop) => [crop.file, crop]))
  drawSectionHead(pen, 'What the camera saw', 150)
  for (const table of tables) {
    for (let from = 0; from < table.columns.length; from += MOST_COLUMNS) {
      const columns = table.columns.slice(from, from + MOST_COLUMNS)
      const rows = table.rows
        .map((row) => ({ ...row, cells: row.cells.slice(from, from + MOST_COLUMNS) }))
        .filter((row) => row.cells.some((cell) => cell !== null))
      const parted = tables.length > 1 || table.columns.length > MOST_COLUMNS
      drawOneTable(pen, context, { ...table, columns, rows }, byFile, parted)
    }
  }
}

function drawOneTable(
  pen: Pen,
  context: SheetContext,
  table: PlannedTable,
  crops: ReadonlyMap<string, SheetCrop>,
  parted: boolean,
): void {
  if (table.rows.length === 0) return
  const noteLine = hasNotes(context, table)
  const size = fittedToPage(pen, cellSize(pen, table, noteLine), table.rows.length, parted)
  if (parted) drawSubhead(pen, table.columns.map(seriesText).join(' · '), size.heightPt + 60)
  drawScaleNote(pen, context, table, size)
  within(pen, 'Table', () => {
    drawHeads(pen, table.columns, size, true)
    for (const row of table.rows) {
      const height = size.heightPt + size.captionPt + ROW_GAP_PT
      if (roomLeftPt(pen) < height - ROW_GAP_PT) {
        turnPage(pen)
        drawHeads(pen, table.columns, size, false)
      }
      within(pen, 'TR', () => {
        const figure = distanceFigure(context.measures, row.distanceM)
        tagged(
          pen,
          'TH',
          () => {
            drawLine(pen.doc, figure, pen.frame.left, baselineBelow(pen.y, DISTANCE) - 3, DISTANCE)
            drawLine(pen.doc, context.measures.lengthUnit, pen.frame.left, pen.y + 22, SMALL_GREY)
          },
          { scope: 'Row' },
        )
        row.cells.forEach((cell, index) => {
          const series = table.columns[index]
          if (series === undefined) return
          const crop = cell === null ? undefined : crops.get(cell.still.file)
          drawPictureCell(pen, context, series, row.distanceM, cell, crop, columnLeft(pen, size, index), size)
        })
        drawRemarks(pen, context, table.columns, row.distanceM, size)
      })
      pen.y += height
    }
  })
}

function cellSize(pen: Pen, table: PlannedTable, noteLine: boolean): PictureCellSize {
  const room = pen.frame.right - pen.frame.left - LABEL_PT
  const widest = (room - (table.columns.length - 1) * GUTTER_PT) / table.columns.length
  const aspect = table.windowHeightM / table.windowWidthM
  const widthPt = Math.min(widest, WIDEST_PT, TALLEST_PT / aspect)
  // Captions need their room even below a narrow picture of a staff.
  const columnPt = Math.max(widthPt, Math.min(widest, 84))
  const captionPt = 2 * lineHeightPt(SMALL) + 3 + (noteLine ? lineHeightPt(TINY_GREY) : 0)
  return { widthPt, heightPt: widthPt * aspect, columnPt, captionPt }
}

/** Whether any cell of the table has a third line to print. */
function hasNotes({ results }: SheetContext, table: PlannedTable): boolean {
  return table.rows.some(({ cells }) =>
    cells.some((cell) => cell !== null && (cell.stillCount > 1 || isLeftOut(results, cell.still))),
  )
}

/** Pictures a little smaller where one more row then fits a page, rather than an empty strip at its foot. */
function fittedToPage(pen: Pen, size: PictureCellSize, rows: number, parted: boolean): PictureCellSize {
  const room = pen.frame.bottom - pen.frame.top - (parted ? 102 : 76)
  const around = size.captionPt + ROW_GAP_PT
  const fitting = Math.floor((room + ROW_GAP_PT) / (size.heightPt + around))
  const heightPt = (room + ROW_GAP_PT) / (fitting + 1) - around
  if (rows <= fitting || heightPt < LEAST_SHRUNK * size.heightPt) return size
  return { ...size, heightPt, widthPt: (size.widthPt * heightPt) / size.heightPt }
}

function columnLeft(pen: Pen, size: PictureCellSize, index: number): number {
  return pen.frame.left + LABEL_PT + index * (size.columnPt + GUTTER_PT)
}

function drawHeads(pen: Pen, columns: readonly Series[], size: PictureCellSize, isFirst: boolean): void {
  const baseline = baselineBelow(pen.y, SMALL_STRONG)
  const drawOne = (series: Series, index: number): void => {
    const [text = ''] = wrapText(pen.doc, seriesText(series), size.columnPt, SMALL_STRONG, 1)
    drawLine(pen.doc, text, columnLeft(pen, size, index), baseline, SMALL_STRONG)
  }
  if (isFirst) {
    within(pen, 'TR', () => {
      tagged(pen, 'TH', () => drawLine(pen.doc, 'Mark', pen.frame.left, baseline, TINY_GREY), {
        scope: 'Column',
      })
      columns.forEach((series, index) => tagged(pen, 'TH', () => drawOne(series, index), { scope: 'Column' }))
    })
  } else {
    artifact(pen, () => columns.forEach(drawOne), 'Pagination')
  }
  pen.y += lineHeightPt(SMALL_STRONG) + 2
  drawRule(pen, pen.y, LINE_PT.hair)
  pen.y += 6
}

/** Says what one picture spans, and draws half a metre at that scale. */
function drawScaleNote(
  pen: Pen,
  { measures }: SheetContext,
  table: PlannedTable,
  size: PictureCellSize,
): void {
  ensureRoom(pen, size.heightPt + 60)
  const barM = measures.isMetric ? (table.windowWidthM > 0.6 ? 0.5 : 0.1) : 0.3048
  const barPt = (barM / table.windowWidthM) * size.widthPt
  const label = measures.isMetric ? `${trimmed(barM, 1)} m` : '1 ft'
  const y = baselineBelow(pen.y, SMALL)
  const text =
    'Every picture of this table is cut at one physical scale. Corner ticks: where the reference was taken. ' +
    'Below each: density, its interval, grade with detail.'
  const left = pen.frame.left + LABEL_PT
  const lines = wrapText(pen.doc, text, pen.frame.right - left - barPt - 40, SMALL_GREY)
  tagged(pen, 'P', () => void drawLines(pen.doc, lines, left, pen.y, SMALL_GREY))
  const right = pen.frame.right
  artifact(pen, () => {
    pen.doc
      .lineWidth(LINE_PT.rule)
      .moveTo(right - barPt, y - 6)
      .lineTo(right - barPt, y - 3)
      .lineTo(right, y - 3)
      .lineTo(right, y - 6)
      .stroke()
    drawLine(pen.doc, label, right - barPt / 2, y + 6, TINY_GREY, 'centre')
  })
  pen.y += Math.max(2, lines.length) * lineHeightPt(SMALL) + 5
}

/** Where one or two columns leave room beside the pictures: what is to be said about the marks of this row. */
function drawRemarks(
  pen: Pen,
  { results }: SheetContext,
  columns: readonly Series[],
  distanceM: number,
  size: PictureCellSize,
): void {
  const left = columnLeft(pen, size, columns.length) + 4
  const width = pen.frame.right - left
  if (width < 90) return
  const remarks = columns.flatMap((series) =>
    results.marks.filter(
      (mark) =>
        mark.light === series.light &&
        mark.reference === series.reference &&
        isSameMark(mark.distance, distanceM) &&
        mark.why !== '',
    ),
  )
  if (remarks.length === 0) return
  const most = Math.floor((size.heightPt + size.captionPt) / lineHeightPt(SMALL) / remarks.length)
  tagged(pen, 'TD', () => {
    let y = pen.y - 2
    for (const mark of remarks) {
      const text = columns.length > 1 ? `${seriesText(mark)}: ${mark.why}` : mark.why
      y += drawLines(pen.doc, wrapText(pen.doc, text, width, SMALL, Math.max(1, most)), left, y, SMALL) + 3
    }
  })
}
