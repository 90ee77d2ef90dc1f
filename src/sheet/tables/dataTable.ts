import type { Pen } from '../document/pen.js'
import { ensureRoom, turnPage } from '../document/pen.js'
import {
  cellTextLines,
  type Column,
  type PlacedColumn,
  placeColumns,
  type TableRow,
  wholePart,
} from './tableColumns.js'
import { drawRule } from '../document/drawRule.js'
import { artifact, tagged, within } from '../document/tagged.js'
import { drawLine, drawLines, baselineBelow, lineHeightPt, textWidthPt, wrapText } from '../document/text.js'
import { LINE_PT, SMALL, SMALL_STRONG, TINY_GREY } from '../document/typography.js'

const PADDING_PT = 1.8

/** A table over the whole measure, with hairlines between rows and its head repeated on every page it reaches. */
export function drawTable(pen: Pen, columns: readonly Column[], rows: readonly TableRow[]): void {
  if (rows.length === 0) return
  const placed = placeColumns(pen, columns, rows)
  const headPt = headHeightPt(pen, placed)
  ensureRoom(pen, headPt + 3 * (linePt(placed) + 2 * PADDING_PT))
  within(pen, 'Table', () => {
    drawHead(pen, placed, true)
    let group: string | null = null
    rows.forEach((row, index) => {
      const next = row.group === undefined ? undefined : rows[index + 1]
      const height = rowHeightPt(pen, placed, row)
      const together = height + (next === undefined ? 0 : rowHeightPt(pen, placed, next))
      if (pen.y + together > pen.frame.bottom) {
        turnPage(pen)
        drawHead(pen, placed, false)
        if (group !== null && row.group === undefined) drawGroupAgain(pen, group)
      }
      if (row.group !== undefined) group = row.group
      if (row.group === undefined) drawRow(pen, placed, row)
      else drawGroup(pen, placed, row)
      pen.y += height
      drawRule(pen, pen.y)
    })
  })
  pen.y += 8
}

function headLines(pen: Pen, column: PlacedColumn): string[] {
  return wrapText(pen.doc, column.head, column.width, TINY_GREY)
}

function headHeightPt(pen: Pen, columns: readonly PlacedColumn[]): number {
  return Math.max(...columns.map((column) => headLines(pen, column).length)) * lineHeightPt(TINY_GREY) + 3
}

function drawHead(pen: Pen, columns: readonly PlacedColumn[], isFirst: boolean): void {
  const height = headHeightPt(pen, columns)
  const drawOne = (column: PlacedColumn): void => {
    const lines = headLines(pen, column)
    const top = pen.y + height - 3 - lines.length * lineHeightPt(TINY_GREY)
    const right = column.align !== 'left'
    drawLines(pen.doc, lines, right ? column.right : column.left, top, TINY_GREY, right ? 'right' : 'left')
  }
  if (isFirst) {
    within(pen, 'TR', () => {
      for (const column of columns) tagged(pen, 'TH', () => drawOne(column), { scope: 'Column' })
    })
  } else {
    artifact(pen, () => columns.forEach(drawOne), 'Pagination')
  }
  pen.y += height
  drawRule(pen, pen.y, LINE_PT.rule)
}

function rowHeightPt(pen: Pen, columns: readonly PlacedColumn[], row: TableRow): number {
  const lines =
    row.group === undefined
      ? columns.map((column, index) => cellTextLines(pen, column, row.cells[index] ?? '').length)
      : [1.2]
  const notesPt = noteLines(pen, columns, row).length * lineHeightPt(SMALL)
  const line = row.group === undefined ? linePt(columns) : lineHeightPt(SMALL)
  return Math.max(1, ...lines) * line + notesPt + 2 * PADDING_PT
}

/** The height of a line of a table's rows: that of its largest print. */
function linePt(columns: readonly PlacedColumn[]): number {
  return Math.max(...columns.map(({ style }) => lineHeightPt(style)))
}

// A note stands below its row's figures, in from the first column, and is never cut shorter than six lines.
function noteLines(pen: Pen, columns: readonly PlacedColumn[], row: TableRow): string[] {
  if (row.note === undefined || row.note === '') return []
  return wrapText(pen.doc, row.note, pen.frame.right - noteLeft(columns), SMALL, 6)
}

function noteLeft(columns: readonly PlacedColumn[]): number {
  return (columns[0]?.right ?? 0) + 9
}

function drawGroupAgain(pen: Pen, text: string): void {
  const baseline = baselineBelow(pen.y + PADDING_PT + 1.5, SMALL_STRONG)
  artifact(
    pen,
    () => drawLine(pen.doc, `${text} (continued)`, pen.frame.left, baseline, SMALL_STRONG),
    'Pagination',
  )
  pen.y += 1.2 * lineHeightPt(SMALL) + 2 * PADDING_PT
  drawRule(pen, pen.y)
}

function drawGroup(pen: Pen, columns: readonly PlacedColumn[], row: TableRow): void {
  within(pen, 'TR', () => {
    const baseline = baselineBelow(pen.y + PADDING_PT + 1.5, SMALL_STRONG)
    const text = row.group ?? ''
    tagged(pen, 'TH', () => drawLine(pen.doc, text, pen.frame.left, baseline, SMALL_STRONG), { scope: 'Row' })
    drawNote(pen, columns, row)
  })
}

function drawRow(pen: Pen, columns: readonly PlacedColumn[], row: TableRow): void {
  within(pen, 'TR', () => {
    columns.forEach((column, index) => {
      const text = row.cells[index] ?? ''
      tagged(pen, 'TD', () => {
        const top = pen.y + PADDING_PT
        if (column.align === 'decimal') {
          const left = column.pointAt - textWidthPt(pen.doc, wholePart(text), column.style)
          drawLine(pen.doc, text, left, baselineBelow(top, column.style), column.style)
        } else {
          const right = column.align === 'right'
          const lines = cellTextLines(pen, column, text)
          drawLines(
            pen.doc,
            lines,
            right ? column.right : column.left,
            top,
            column.style,
            right ? 'right' : 'left',
          )
        }
      })
    })
    drawNote(pen, columns, row)
  })
}

function drawNote(pen: Pen, columns: readonly PlacedColumn[], row: TableRow): void {
  const note = noteLines(pen, columns, row)
  if (note.length === 0) return
  const top = pen.y + rowHeightPt(pen, columns, row) - PADDING_PT - note.length * lineHeightPt(SMALL)
  tagged(pen, 'TD', () => void drawLines(pen.doc, note, noteLeft(columns), top, SMALL))
}
