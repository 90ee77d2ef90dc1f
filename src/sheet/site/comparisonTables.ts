import { promisedName } from '../../grade/gradings/grading.js'
import { groupBy } from '../../math/groupBy.js'
import { figuresOf } from '../../units/figures.js'
import type { ComparisonInput } from '../input/sheetInput.js'
import { comparedCells, densityPrinter } from './comparedCells.js'
import { drawTable } from '../tables/dataTable.js'
import type { Pen } from '../document/pen.js'
import { drawSectionHead, drawSubhead } from '../document/prose.js'
import type { TableRow } from '../tables/tableColumns.js'
import { SMALL_GREY, SMALL_STRONG } from '../document/typography.js'

/** Every shared mark in numbers, and what became of every promise. */
export function drawComparisonTables(pen: Pen, input: ComparisonInput): void {
  if (input.comparison.marks.length + input.comparison.promises.length === 0) return
  drawSectionHead(pen, 'In numbers', 70)
  drawPromises(pen, input)
  drawMarks(pen, input)
}

function drawMarks(pen: Pen, { comparison, before, after }: ComparisonInput): void {
  const density = densityPrinter([before, after])
  const figures = figuresOf(after)
  if (comparison.marks.length === 0) return
  drawSubhead(pen, 'Every mark that both walks measured', 40)
  const groups = groupBy(comparison.marks, ({ light, reference }) => `${light}, ${reference}`)
  const rows = [...groups].flatMap(([group, marks]): TableRow[] => [
    { group, cells: [] },
    ...marks.map((mark) => ({
      cells: [
        figures.bareDistance(mark.distance),
        ...comparedCells(mark.density, density(mark), '–'),
        ...comparedCells(mark.detail, (value) => `${(100 * value).toFixed(0)} %`, '–'),
      ],
    })),
  ])
  const figure = (head: string) =>
    [
      { head: `${head}, before`, share: 34, align: 'right' },
      { head: 'after', share: 32, align: 'right' },
      { head: 'Change', share: 36, align: 'right' },
      { head: '95 % interval', share: 74, align: 'right', style: SMALL_GREY },
      { head: 'Signif.', share: 24 },
    ] as const
  drawTable(
    pen,
    [
      { head: `Mark, ${figures.lengthUnit}`, share: 30, align: 'decimal' },
      ...figure(figures.densityUnit),
      ...figure('Detail'),
    ],
    rows,
  )
}

function drawPromises(pen: Pen, { comparison, after }: ComparisonInput): void {
  if (comparison.promises.length === 0) return
  const figures = figuresOf(after)
  drawSubhead(pen, 'What became of the promises', 40)
  drawTable(
    pen,
    [
      { head: 'Promised grade', share: 130 },
      { head: 'Light', share: 70 },
      { head: 'Reference', share: 70 },
      { head: 'Before', share: 60 },
      { head: 'After', share: 60, style: SMALL_STRONG },
      { head: '', share: 80 },
    ],
    comparison.promises.map((promise) => ({
      cells: [
        `${promisedName(promise, after.grading)} at ${figures.distance(promise.distance)}`,
        promise.light,
        promise.reference ?? 'every reference',
        promise.before ?? 'not promised',
        promise.after ?? 'not promised',
        promise.before === null || promise.after === null || promise.before === promise.after
          ? ''
          : 'another verdict',
      ],
    })),
  )
}
