import type { WalkResults } from '../walk/resultsSchema.js'
import { groupBy } from '../math/groupBy.js'
import { densityAgainst, densityText, gradeNameOf, metresText } from './figures.js'
import { markTables } from './markTables.js'
import { oneLine } from '../walk/oneLine.js'
import { textTable } from './textTable.js'

type PromiseEntry = WalkResults['promises'][number]
type Range = WalkResults['ranges'][number]
type Grading = WalkResults['grading']
type Judge = WalkResults['walk']['judge']

/**
 * What `measure` prints of a walk: per light and reference its marks, then each promise, how far each grade holds, what was found on the walk
 * as a whole, and every file not measured with its mend. The discount for detail stands in columns of its own, never under the standard's
 * name, and a walk judged by pixels claims no grade with detail.
 */
export function measureTable(results: WalkResults): string {
  const { grading } = results
  const { judge } = results.walk
  return [
    ...markTables(results.marks, grading, judge),
    promiseTable(results.promises, grading, judge),
    rangeTable(results.ranges, grading, judge),
    lensLines(results.lens),
    findingLines(results.findings),
    notMeasured(results),
  ]
    .filter((part) => part !== '')
    .join('\n')
}

function promiseTable(promises: readonly PromiseEntry[], grading: Grading, judge: Judge): string {
  if (promises.length === 0) return ''
  const rows = promises.map((promise) => ({
    cells: [
      gradeNameOf(promise.grade, grading),
      metresText(promise.distance),
      promise.light,
      promise.reference ?? 'every',
      promise.verdict,
      promise.value === null ? '-' : densityAgainst(promise.value, promise.limit),
      promise.low === null || promise.high === null
        ? ''
        : `${densityAgainst(promise.low, promise.limit)} to ${densityAgainst(promise.high, promise.limit)}`,
      densityText(promise.limit),
      ...(judge === 'detail' ? [promise.byPixels] : []),
    ],
    note: promise.why,
  }))
  const head = ['promised', 'at', 'light', 'reference', 'verdict', 'px/m', '95 %', 'limit']
  if (judge === 'detail') head.push('by pixels')
  return `Promises\n${textTable(head, rows, ['left', 'right', 'left', 'left', 'left', 'right', 'left', 'right'])}`
}

function rangeTable(ranges: readonly Range[], grading: Grading, judge: Judge): string {
  const told = groupBy(
    ranges.filter(({ kind, basis }) => kind !== 'none' && (judge === 'detail' || basis === 'pixels')),
    (range) => [range.light, range.reference, range.grade].join('\n'),
  )
  if (told.size === 0) return ''
  const rows = [...told.values()].map((bases) => {
    const { light, reference, grade } = bases[0]!
    const reachBy = (basis: Range['basis']): string => reach(bases.find((range) => range.basis === basis))
    const cells = [light, reference, gradeNameOf(grade, grading), reachBy('pixels')]
    return { cells: judge === 'detail' ? [...cells, reachBy('detail')] : cells }
  })
  const head = ['light', 'reference', 'grade', 'by pixels', ...(judge === 'detail' ? ['with detail'] : [])]
  return `How far each grade holds\n${textTable(head, rows)}`
}

/** How far a grade holds, in words: "17.6 m (17.4 to 17.9)", "between 16 and 20 m", "at least 20 m". */
function reach(range: Range | undefined): string {
  if (range === undefined) return 'not shown'
  const { distance, low, high } = range
  const from = range.from === null ? '' : `, from ${metresText(range.from)} on`
  const figure = (lengthM: number | null): string =>
    lengthM === null ? '?' : String(Number(lengthM.toFixed(1)))
  if (range.kind === 'bracketed') return `between ${figure(low)} and ${figure(high)} m${from}`
  if (distance === null)
    return low === null ? `under ${figure(high)} m${from}` : `at least ${figure(low)} m${from}`
  const beyond = range.kind === 'extrapolated' ? ', beyond the marks' : ''
  return `${figure(distance)} m (${figure(low)} to ${figure(high)})${beyond}${from}`
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

function findingLines(findings: WalkResults['findings']): string {
  if (findings.length === 0) return ''
  return `Found on the walk as a whole\n${findings.map(({ message }) => `  ${message}\n`).join('')}`
}

function notMeasured(results: WalkResults): string {
  const lines = [...results.failed, ...results.unassigned].map(
    ({ file, message }) => `  ${oneLine(file)}: ${message}`,
  )
  return lines.length === 0 ? '' : `Not measured\n${lines.join('\n')}\n`
}
