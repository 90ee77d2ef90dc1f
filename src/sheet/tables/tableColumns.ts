import type { Pen } from '../document/pen.js'
import { textWidthPt, wrapText } from '../document/text.js'
import { SMALL, type TextStyle } from '../document/typography.js'

export interface Column {
  readonly head: string
  /** Share of the measure, relative to the other columns' shares. */
  readonly share: number
  /** `decimal`: numbers stand with their points below one another, as a block at the column's right edge. */
  readonly align?: 'left' | 'right' | 'decimal'
  readonly style?: TextStyle
  /** Lines a cell may take before it is cut with an ellipsis; the attached results keep all of it. */
  readonly mostLines?: number
}

export interface TableRow {
  /** A row of one cell that heads those below it. */
  readonly group?: string
  /** Printed over the whole measure below the row's cells. */
  readonly note?: string
  /** One text per column. */
  readonly cells: readonly string[]
}

/** A column with its place on the page, points. */
export interface PlacedColumn {
  readonly head: string
  readonly align: 'left' | 'right' | 'decimal'
  readonly style: TextStyle
  readonly mostLines: number
  readonly left: number
  readonly right: number
  readonly width: number
  /** Where the decimal point of a `decimal` column stands. */
  readonly pointAt: number
}

const GUTTER_PT = 9

/** Shares the measure out to the columns and finds where each decimal column's point stands. */
export function placeColumns(
  pen: Pen,
  columns: readonly Column[],
  rows: readonly TableRow[],
): PlacedColumn[] {
  const room = pen.frame.right - pen.frame.left - (columns.length - 1) * GUTTER_PT
  const shares = columns.reduce((sum, column) => sum + column.share, 0)
  let left = pen.frame.left
  return columns.map((column, index) => {
    const width = (room * column.share) / shares
    const style = column.style ?? SMALL
    const right = left + width
    const fractions = rows
      .filter((row) => row.group === undefined)
      .map((row) => row.cells[index] ?? '')
      .map((text) => textWidthPt(pen.doc, text.slice(wholePart(text).length), style))
    const placed = {
      head: column.head,
      align: column.align ?? 'left',
      style,
      mostLines: column.mostLines ?? 8,
      left,
      right,
      width,
      pointAt: right - Math.max(0, ...fractions),
    }
    left += width + GUTTER_PT
    return placed
  })
}

/** A cell's text as lines; a decimal cell is always one. */
export function cellTextLines(pen: Pen, column: PlacedColumn, text: string): string[] {
  return column.align === 'decimal'
    ? [text]
    : wrapText(pen.doc, text, column.width, column.style, column.mostLines)
}

/** What stands before the decimal point. */
export function wholePart(text: string): string {
  return /^[^.]*/.exec(text)?.[0] ?? text
}
