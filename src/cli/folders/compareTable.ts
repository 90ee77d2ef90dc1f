import type { ComparedFigure, ComparedMark, WalkComparison } from '../../grade/compare/comparison.js'
import { sceneLine } from '../../grade/compare/sceneChange.js'
import { groupBy } from '../../math/groupBy.js'
import { promisedName } from '../../grade/gradings/grading.js'
import { figuresOf } from '../../units/figures.js'
import type { WalkResults } from '../../walk/schemas/resultsSchema.js'
import { comparedCells, densityPrinter } from '../../sheet/site/comparedCells.js'
import { comparisonSentence } from '../../sheet/site/comparisonSentence.js'
import { textTable } from '../terminal/textTable.js'

/** What `compare` prints: what it means first, then every mark per light and reference, then the promises. */
export function compareTable(before: WalkResults, after: WalkResults, comparison: WalkComparison): string {
  const head = [before, after].map(({ walk }, index) => {
    const word = index === 0 ? 'before' : 'after '
    return `${word}  ${walk.date ?? 'no date'}  ${walk.site}, ${walk.camera.name}${walk.simulated ? '  SIMULATED' : ''}\n`
  })
  const meaning = comparison.findings.map(({ message, code }) => `  ${message} (${code})\n`)
  const line = comparison.marks.length === 0 ? null : sceneLine(comparison.scene)
  const groups = groupBy(comparison.marks, ({ light, reference }) => `${light}, ${reference}`)
  return [
    `${head.join('')}\n${comparisonSentence(comparison)}\n${meaning.join('')}${line === null ? '' : `  ${line}\n`}`,
    ...[...groups].map(([title, marks]) => `${title}\n${markTable(marks, comparison, [before, after])}`),
    promiseTable(comparison, after),
    comparison.marks.length === 0
      ? ''
      : 'Intervals are 95 % of that mark alone; a change is called significant by all marks and lights together.\n',
  ]
    .filter((part) => part !== '')
    .join('\n')
}

function markTable(
  marks: readonly ComparedMark[],
  { series }: WalkComparison,
  walks: readonly [WalkResults, WalkResults],
): string {
  const figures = figuresOf(walks[1])
  const densityCell = densityPrinter(walks)
  const hasDetail = marks.some(({ detail }) => detail !== null)
  const head = ['mark', `${figures.densityUnit} before`, 'after', 'change', '95 %', 'significant']
  if (hasDetail) head.push('detail before', 'after', 'change', '95 %', 'significant')
  const rows = marks.map((mark) => ({
    cells: [
      figures.distance(mark.distance),
      ...comparedCells(mark.density, densityCell(mark), '-'),
      ...(hasDetail ? comparedCells(mark.detail, (value) => `${(100 * value).toFixed(0)} %`, '-') : []),
    ],
  }))
  const whole = series.find(
    ({ light, reference }) => light === marks[0]!.light && reference === marks[0]!.reference,
  )
  const all = (change: ComparedFigure | null): string[] => comparedCells(change, () => '', '-').slice(2)
  if (whole !== undefined && marks.length > 1) {
    const blank = { before: 0, after: 0 }
    const f10 = whole.f10 === null ? null : { ...blank, ...whole.f10 }
    rows.push({
      cells: [
        'all',
        '',
        '',
        ...all({ ...blank, ...whole.density }),
        ...(hasDetail ? ['f10', '', ...all(f10)] : []),
      ],
    })
  }
  const aligns = ['right', 'right', 'right', 'left', 'left'] as const
  return textTable(head, rows, ['right', ...aligns, ...aligns])
}

function promiseTable({ promises }: WalkComparison, results: WalkResults): string {
  if (promises.length === 0) return ''
  const figures = figuresOf(results)
  const rows = promises.map(({ distance, light, reference, before, after, ...promised }) => ({
    cells: [
      promisedName(promised, results.grading),
      figures.distance(distance),
      light,
      reference ?? 'every',
      before ?? 'not promised',
      after ?? 'not promised',
      before === null || after === null || before === after ? '' : 'another verdict',
    ],
  }))
  const head = ['promised', 'at', 'light', 'reference', 'before', 'after', '']
  return `Promises\n${textTable(head, rows, ['left', 'right'])}`
}
