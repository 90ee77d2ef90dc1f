import type { WalkResults } from '../../walk/schemas/resultsSchema.js'
import { stillScalePxPerM } from '../pictures/referenceExtent.js'
import { drawTable } from '../tables/dataTable.js'
import { asSentence } from '../../sentences.js'
import type { MaybeBound } from '../../math/interval.js'
import { limitsOf } from '../../grade/gradings/grading.js'
import { figuresFor } from '../../units/figures.js'
import { printedEstimate } from '../../units/printedEstimate.js'
import type { Pen } from '../document/pen.js'
import { isSameMark } from '../../walk/read/sameMark.js'
import { belongsTo, type Series, seriesOf, seriesText } from '../../plot/series.js'
import type { SheetContext } from '../input/sheetContext.js'
import type { Column, TableRow } from '../tables/tableColumns.js'
import { SMALL_GREY } from '../document/typography.js'
import { columnsWithDetail, judgesDetail } from '../input/detailColumns.js'
import { gradeText } from '../input/walkFacts.js'

type Mark = WalkResults['marks'][number]

/** Every mark in numbers, grouped by light and reference. */
export function drawMarksTable(pen: Pen, context: SheetContext): void {
  const { figures, results } = context
  const { lengthUnit, densityUnit } = figures
  const columns: Column[] = [
    { head: `Mark, ${lengthUnit}`, share: 36, align: 'decimal' },
    { head: 'Stills', share: 20, align: 'right' },
    { head: densityUnit, share: 42, align: 'decimal' },
    { head: '95 % interval', share: 72, align: 'right', style: SMALL_GREY },
    // The limits are px/m whatever is printed, so the density stands in their unit as well.
    ...(figures.isMetric ? [] : ([{ head: 'px/m', share: 34, align: 'decimal' }] as const)),
    ...(columnsWithDetail(results)
      ? ([
          { head: `${densityUnit} with detail`, share: 44, align: 'decimal' },
          { head: '95 % interval', share: 72, align: 'right', style: SMALL_GREY },
          { head: `Finest stroke,\u00a0${figures.strokeUnit}`, share: 40, align: 'decimal' },
        ] as const)
      : []),
    ...(judgesDetail(results)
      ? [
          { head: 'Grade by pixels', share: 60 },
          { head: 'Grade with detail', share: 60 },
        ]
      : [{ head: 'Grade, by pixels', share: 60 }]),
    { head: `Width of view,\u00a0${lengthUnit}`, share: 42, align: 'decimal' },
  ]
  drawTable(pen, columns, marksRows(context))
}

/** The rows of the table of marks, in order. */
export function marksRows(context: SheetContext): TableRow[] {
  const { results } = context
  return seriesOf(results).flatMap((series): TableRow[] => {
    const marks = results.marks
      .filter((mark) => belongsTo(series, mark))
      .sort((a, b) => a.distance - b.distance)
    if (marks.length === 0) return []
    const shared = sharedNotes(marks)
    const common = [...shared].map(([part, where]) =>
      where.length === marks.length
        ? part
        : `${part}: at ${context.figures.distances(where.map(({ distance }) => distance))}`,
    )
    return [
      { group: seriesText(series), cells: [], note: common.map(asSentence).join(' ') },
      ...marks.map((mark) => ({
        cells: cellsOf(mark, series, context),
        note: noteParts(mark)
          .filter((part) => !shared.has(part))
          .join('; '),
      })),
    ]
  })
}

function cellsOf(mark: Mark, series: Series, context: SheetContext): string[] {
  const { figures, results } = context
  const estimate = (density: MaybeBound): string[] => [
    figures.density(density).value,
    figures.interval(density),
  ]
  const detail = [
    ...(mark.effectiveDensity === null ? ['–', ''] : estimate(mark.effectiveDensity)),
    mark.resolved === null ? '–' : figures.stroke(mark.resolved),
  ]
  return [
    figures.bareDistance(mark.distance),
    String(mark.stills),
    ...estimate(mark.density),
    ...(figures.isMetric
      ? []
      : [figuresFor('metric', limitsOf(results.grading)).density(mark.density).value]),
    ...(columnsWithDetail(results) ? detail : []),
    ...(judgesDetail(results) ? [gradeText(results.grading, mark.gradeByPixels)] : []),
    gradeText(results.grading, mark.grade),
    widthOfView(mark, series, context),
  ]
}

/** What is said of several marks of a series, with those marks: it is printed once for all of them. */
function sharedNotes(marks: readonly Mark[]): ReadonlyMap<string, readonly Mark[]> {
  const parts = new Set(marks.flatMap(noteParts))
  const where = [...parts].map(
    (part) => [part, marks.filter((mark) => noteParts(mark).includes(part))] as const,
  )
  return new Map(where.filter(([, { length }]) => length > 1))
}

function noteParts(mark: Mark): string[] {
  return noteOf(mark)
    .split('; ')
    .filter((part) => part !== '')
}

function noteOf({ leftOut, why }: Mark): string {
  if (!leftOut || /left out/i.test(why)) return why
  return why === '' ? 'left out' : `left out: ${why}`
}

/** The still's width over the density across it at this mark, as uncertain as that is: exact for a flat view, an estimate at the edges of a wide one. */
function widthOfView(mark: Mark, series: Series, { results, figures }: SheetContext): string {
  const still = results.stills.find(
    (candidate) =>
      belongsTo(series, candidate) &&
      candidate.distance !== null &&
      isSameMark(candidate.distance, mark.distance),
  )
  const scale = still === undefined ? 0 : stillScalePxPerM(still)
  if (still === undefined || !(scale > 0)) return '–'
  const width = figures.inLengthUnit(still.width / scale)
  const { value, low, high } = mark.density
  return printedEstimate({ value: width, low: (width * value) / high, high: (width * value) / low }).value
}
