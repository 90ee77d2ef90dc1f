import type { WalkResults } from '../walk/resultsSchema.js'
import { groupBy } from '../math/groupBy.js'
import type { Estimate } from '../math/interval.js'
import { densityText, gradeNameOf, metresText } from './figures.js'
import { oneLine } from '../walk/oneLine.js'
import { textTable } from './textTable.js'

type Mark = WalkResults['marks'][number]
type PromiseEntry = WalkResults['promises'][number]
type Range = WalkResults['ranges'][number]
type Grading = WalkResults['grading']

/**
 * What `measure` prints of a walk: per light and reference its marks, then each promise, how far each grade holds, and every file not
 * measured with its mend. The discount for detail stands in columns of its own, never under the standard's name.
 */
export function measureTable(results: WalkResults): string {
  const { grading } = results
  return [
    ...markTables(results.marks, grading),
    promiseTable(results.promises, grading),
    rangeTable(results.ranges, grading),
    lensLines(results.lens),
    notMeasured(results),
  ]
    .filter((part) => part !== '')
    .join('\n')
}

function markTables(marks: readonly Mark[], grading: Grading): string[] {
  const groups = groupBy(marks, (mark) => `${mark.light}, ${mark.reference}`)
  return [...groups].map(([title, group]) => {
    const rows = group.map((mark) => [
      `${metresText(mark.distance)}${mark.leftOut ? ' (left out)' : ''}`,
      ...estimate(mark.density),
      ...(mark.effectiveDensity === null ? ['-', ''] : estimate(mark.effectiveDensity)),
      gradeNameOf(mark.gradeByPixels, grading),
      gradeNameOf(mark.grade, grading),
      mark.why,
    ])
    const head = [
      'mark',
      'px/m',
      '95 %',
      'with detail',
      '95 %',
      'grade by pixels',
      'grade with detail',
      'note',
    ]
    return `${title}\n${textTable(head, rows, ['right', 'right', 'left', 'right', 'left'])}`
  })
}

function promiseTable(promises: readonly PromiseEntry[], grading: Grading): string {
  if (promises.length === 0) return ''
  const rows = promises.map((promise) => [
    gradeNameOf(promise.grade, grading),
    metresText(promise.distance),
    promise.light,
    promise.reference ?? '',
    promise.verdict.toUpperCase(),
    promise.value === null ? '-' : densityText(promise.value),
    promise.low === null || promise.high === null
      ? ''
      : `${densityText(promise.low)} to ${densityText(promise.high)}`,
    densityText(promise.limit),
    promise.byPixels,
    promise.why,
  ])
  const head = [
    'promised',
    'at',
    'light',
    'reference',
    'verdict',
    'px/m',
    '95 %',
    'limit',
    'by pixels',
    'why',
  ]
  return `Promises\n${textTable(head, rows, ['left', 'right', 'left', 'left', 'left', 'right', 'left', 'right'])}`
}

function rangeTable(ranges: readonly Range[], grading: Grading): string {
  const told = ranges.filter((range) => range.kind !== 'none')
  if (told.length === 0) return ''
  const rows = told.map((range) => [
    range.light,
    range.reference,
    gradeNameOf(range.grade, grading),
    range.basis,
    range.from === null ? '' : `from ${metresText(range.from)}`,
    range.distance === null ? '-' : metresText(range.distance),
    reach(range),
    range.kind,
  ])
  const head = ['light', 'reference', 'grade', 'by', 'near end', 'holds to', '95 %', '']
  return `How far each grade holds\n${textTable(head, rows, ['left', 'left', 'left', 'left', 'left', 'right'])}`
}

function reach(range: Range): string {
  if (range.low !== null && range.high !== null)
    return `${metresText(range.low)} to ${metresText(range.high)}`
  if (range.low !== null) return `at least ${metresText(range.low)}`
  return range.high === null ? '' : `under ${metresText(range.high)}`
}

function lensLines(lenses: WalkResults['lens']): string {
  const lines = lenses.flatMap((lens) =>
    lens.suspect === null
      ? []
      : [
          `${lens.light}, ${lens.reference}: the ${metresText(lens.suspect.distance)} mark does not fit the others, it fits ${metresText(lens.suspect.fits)}: left out, tape it again`,
        ],
  )
  return lines.length === 0 ? '' : `${lines.join('\n')}\n`
}

function notMeasured(results: WalkResults): string {
  const lines = [...results.failed, ...results.unassigned].map(
    ({ file, message }) => `  ${oneLine(file)}: ${message}`,
  )
  return lines.length === 0 ? '' : `Not measured\n${lines.join('\n')}\n`
}

function estimate({ value, low, high }: Estimate): [string, string] {
  return [densityText(value), `${densityText(low)} to ${densityText(high)}`]
}
