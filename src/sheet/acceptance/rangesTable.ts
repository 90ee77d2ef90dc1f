import type { WalkResults } from '../../walk/schemas/resultsSchema.js'
import { judgesDetail } from './detailColumns.js'
import { drawTable } from '../tables/dataTable.js'
import { lengthIn, limitFigure, trimmed } from '../../units/measures.js'
import type { Pen } from '../document/pen.js'
import { belongsTo, seriesOf, seriesText } from '../../plot/series.js'
import type { SheetContext } from '../input/sheetContext.js'
import type { Column, TableRow } from '../tables/tableColumns.js'

type Range = WalkResults['ranges'][number]

/** How far out each grade holds, by pixels and with detail. */
export function drawRangesTable(pen: Pen, context: SheetContext): void {
  const { results, measures } = context
  const withDetail = judgesDetail(results)
  const columns: Column[] = [
    { head: 'Grade', share: 70 },
    { head: 'Limit, px/m', share: 40, align: 'decimal' },
    { head: `By pixels, holds to (${measures.lengthUnit})`, share: 150 },
    ...(withDetail ? [{ head: `With detail, holds to (${measures.lengthUnit})`, share: 150 }] : []),
  ]
  drawTable(pen, columns, rangesRows(context))
}

/** The rows of the table of ranges, in order. */
export function rangesRows(context: SheetContext): TableRow[] {
  const { results } = context
  const withDetail = judgesDetail(results)
  return seriesOf(results).flatMap((series): TableRow[] => {
    const here = results.ranges.filter((range) => belongsTo(series, range))
    const lines = results.grading.grades.flatMap((grade): TableRow[] => {
      const of = (basis: Range['basis']): Range | undefined =>
        here.find((range) => range.grade === grade.id && range.basis === basis)
      const [pixels, detail] = [of('pixels'), of('detail')]
      if (pixels === undefined && (detail === undefined || !withDetail)) return []
      return [
        {
          cells: [
            grade.name,
            limitFigure(grade.limit),
            rangeText(pixels, context),
            ...(withDetail ? [rangeText(detail, context)] : []),
          ],
        },
      ]
    })
    return lines.length === 0 ? [] : [{ group: seriesText(series), cells: [] }, ...lines]
  })
}

/** A range in words: "16.4 (15.9 to 17.0)", "between 12 and 16", "at least 20, the farthest mark that shows it". */
export function rangeText(range: Range | undefined, { measures }: SheetContext): string {
  if (range === undefined) return '–'
  const figure = (lengthM: number): string => trimmed(lengthIn(measures, lengthM), 1)
  const from = range.from === null ? '' : `, from ${figure(range.from)} on`
  const { distance, low, high } = range
  if (range.kind === 'none') return 'not shown at any mark'
  if (range.kind === 'bracketed')
    return `between ${low === null ? '?' : figure(low)} and ${high === null ? '?' : figure(high)}${from}`
  const interval = low !== null && high !== null ? ` (${figure(low)} to ${figure(high)})` : ''
  if (range.kind === 'fitted') return `${distance === null ? '?' : figure(distance)}${interval}${from}`
  if (distance === null) return `at least ${low === null ? '?' : figure(low)}; no mark fails it${from}`
  return `${figure(distance)}${interval}, beyond the farthest mark${from}`
}
