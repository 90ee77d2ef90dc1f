import type { WalkResults } from '../../walk/schemas/resultsSchema.js'
import { askedDetail } from '../../grade/gradings/grading.js'
import { gradeSays } from '../../grade/sentences.js'
import { judgesDetail } from '../input/detailColumns.js'
import { figuresFor } from '../../units/figures.js'
import { drawTable } from '../tables/dataTable.js'
import type { Pen } from '../document/pen.js'
import { belongsTo, seriesOf, seriesText } from '../../plot/series.js'
import type { SheetContext } from '../input/sheetContext.js'
import type { Column, TableRow } from '../tables/tableColumns.js'

const IN_METRES = figuresFor('metric')

type Range = WalkResults['ranges'][number]

/** How far out each grade holds, by pixels and with detail. */
export function drawRangesTable(pen: Pen, context: SheetContext): void {
  const { results, figures } = context
  const withDetail = judgesDetail(results)
  const columns: Column[] = [
    { head: 'Grade', share: 92 },
    { head: 'Limit, px/m', share: 60 },
    ...(figures.isMetric ? [] : [{ head: 'px/ft', share: 52 }]),
    { head: `Stroke asked,\u00a0${figures.strokeUnit}`, share: 70 },
    { head: `By pixels, holds to (${figures.lengthUnit})`, share: 150 },
    ...(withDetail ? [{ head: `With detail, holds to (${figures.lengthUnit})`, share: 150 }] : []),
  ]
  drawTable(pen, columns, rangesRows(context))
}

/** The rows of the table of ranges, in order. */
export function rangesRows(context: SheetContext): TableRow[] {
  const { results, figures } = context
  const withDetail = judgesDetail(results)
  return seriesOf(results).flatMap((series): TableRow[] => {
    const here = results.ranges.filter((range) => belongsTo(series, range))
    const lines = results.grading.grades.flatMap((grade): string[][] => {
      const of = (basis: Range['basis']): Range | undefined =>
        here.find((range) => range.grade === grade.id && range.basis === basis)
      const [pixels, detail] = [of('pixels'), of('detail')]
      if (pixels === undefined && (detail === undefined || !withDetail)) return []
      return [
        [
          grade.name,
          IN_METRES.bareLimit(grade.limit),
          ...(figures.isMetric ? [] : [figures.ownLimit(grade.limit)]),
          figures.stroke(askedDetail(grade, results.grading)),
          rangeText(pixels, context),
          ...(withDetail ? [rangeText(detail, context)] : []),
        ],
      ]
    })
    const rows = alikeInOne(lines, figures.isMetric ? 3 : 4).map((cells) => ({ cells }))
    return rows.length === 0 ? [] : [{ group: seriesText(series), cells: [] }, ...rows]
  })
}

/** Rows that say the same after their first `named` cells, one after another, as one row that names them all. */
function alikeInOne(rows: readonly string[][], named: number): string[][] {
  const told: string[][] = []
  for (const row of rows) {
    const last = told.at(-1)
    if (last?.slice(named).join('\n') !== row.slice(named).join('\n')) told.push([...row])
    else for (let cell = 0; cell < named; cell += 1) last[cell] += `, ${row[cell]!}`
  }
  return told
}

/** By what other light's marks a range holds. */
function lentText({ lentBy }: Pick<Range, 'lentBy'>): string {
  return lentBy === undefined ? '' : `, ${gradeSays['lent-by'](lentBy).message}`
}

/** A range in words: "16.43 (15.90 to 17.04)", "between 12 and 16", "at least 20, the farthest mark that shows it". */
export function rangeText(range: Range | undefined, { figures }: SheetContext): string {
  if (range === undefined) return '–'
  const mark = (distanceM: number | null): string =>
    distanceM === null ? '?' : figures.bareDistance(distanceM)
  const from = range.from === null ? '' : `, from ${mark(range.from)} on`
  const { distance, low, high, kind } = range
  if (kind === 'none' || (low === null && high === null)) return 'not shown at any mark'
  const lent = lentText(range)
  if (distance === null || low === null || high === null) {
    const few = kind === 'too-few' ? '; too few marks to say more' : ''
    if (low === null) return `under ${mark(high)}${few}${lent}`
    return `${high === null ? `at least ${mark(low)}; no mark fails it` : `between ${mark(low)} and ${mark(high)}`}${from}${few}${lent}`
  }
  const reach = figures.reach({ value: distance, low, high })
  const beyond = kind === 'extrapolated' ? ', beyond the marks' : ''
  return `${reach.value} (${reach.low} to ${reach.high})${beyond}${from}${lent}`
}
