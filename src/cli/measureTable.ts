import type { Grading } from '../grade/grading.js'
import type { WalkResults } from '../walk/resultsSchema.js'
import { groupBy } from '../math/groupBy.js'
import type { Estimate } from '../math/interval.js'
import { textTable } from './textTable.js'

type Mark = WalkResults['marks'][number]
type PromiseEntry = WalkResults['promises'][number]
type Range = WalkResults['ranges'][number]

/**
 * What `measure` prints of a walk: per light and reference its marks, then each promise, how far each grade holds, and every file not
 * measured with its mend. The discount for detail stands in columns of its own, never under the standard's name.
 */
export function measureTable(results: WalkResults, grading: Grading): string {
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
      `${metres(mark.distance)}${mark.leftOut ? ' (left out)' : ''}`,
      ...estimate(mark.density),
      ...(mark.effectiveDensity === null ? ['-', ''] : estimate(mark.effectiveDensity)),
      gradeName(mark.gradeByPixels, grading),
      gradeName(mark.grade, grading),
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
    gradeName(promise.grade, grading),
    metres(promise.distance),
    promise.light,
    promise.reference ?? '',
    promise.verdict.toUpperCase(),
    promise.value === null ? '-' : density(promise.value),
    promise.low === null || promise.high === null
      ? ''
      : `${density(promise.low)} to ${density(promise.high)}`,
    density(promise.limit),
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
    gradeName(range.grade, grading),
    range.basis,
    range.from === null ? '' : `from ${metres(range.from)}`,
    range.distance === null ? '-' : metres(range.distance),
    reach(range),
    range.kind,
  ])
  const head = ['light', 'reference', 'grade', 'by', 'near end', 'holds to', '95 %', '']
  return `How far each grade holds\n${textTable(head, rows, ['left', 'left', 'left', 'left', 'left', 'right'])}`
}

function reach(range: Range): string {
  if (range.low !== null && range.high !== null) return `${metres(range.low)} to ${metres(range.high)}`
  if (range.low !== null) return `at least ${metres(range.low)}`
  return range.high === null ? '' : `under ${metres(range.high)}`
}

function lensLines(lenses: WalkResults['lens']): string {
  const lines = lenses.flatMap((lens) =>
    lens.suspect === null
      ? []
      : [
          `${lens.light}, ${lens.reference}: the ${metres(lens.suspect.distance)} mark does not fit the others, it fits ${metres(lens.suspect.fits)}: left out, tape it again`,
        ],
  )
  return lines.length === 0 ? '' : `${lines.join('\n')}\n`
}

function notMeasured(results: WalkResults): string {
  const lines = [...results.failed, ...results.unassigned].map(({ file, message }) => `  ${file}: ${message}`)
  return lines.length === 0 ? '' : `Not measured\n${lines.join('\n')}\n`
}

function gradeName(id: string | null, grading: Grading): string {
  if (id === null) return '-'
  return grading.grades.find((grade) => grade.id === id)?.name ?? id
}

function estimate({ value, low, high }: Estimate): [string, string] {
  return [density(value), `${density(low)} to ${density(high)}`]
}

function density(value: number): string {
  return value >= 100 ? value.toFixed(0) : value.toFixed(1)
}

function metres(value: number): string {
  return `${Number(value.toFixed(2))} m`
}
