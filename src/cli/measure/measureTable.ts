import type { WalkResults } from '../../walk/schemas/resultsSchema.js'
import { groupBy } from '../../math/groupBy.js'
import type { UnitSystem } from '../../units/formatLength.js'
import { limitFigure, lengthIn, measuresFor, trimmed } from '../../units/measures.js'
import { densityAgainst, distanceText, gradeNameOf } from '../../units/figures.js'
import { markTables } from './markTables.js'
import { oneLine } from '../../files/oneLine.js'
import { textTable } from '../terminal/textTable.js'

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
  const { judge, units } = results.walk
  return [
    ...markTables(results),
    promiseTable(results.promises, grading, judge, units),
    rangeTable(results.ranges, grading, judge, units),
    projectionLine(results.projection),
    lensLines(results.lens, units),
    findingLines(results.findings),
    notMeasured(results),
  ]
    .filter((part) => part !== '')
    .join('\n')
}

function promiseTable(
  promises: readonly PromiseEntry[],
  grading: Grading,
  judge: Judge,
  units: UnitSystem,
): string {
  if (promises.length === 0) return ''
  const inFeet = units === 'imperial'
  const rows = promises.map((promise) => ({
    cells: [
      gradeNameOf(promise.grade, grading),
      distanceText(promise.distance, units),
      promise.light,
      promise.reference ?? 'every',
      promise.verdict,
      promise.value === null ? '-' : densityAgainst(promise.value, promise.limit, units),
      promise.low === null || promise.high === null
        ? ''
        : `${densityAgainst(promise.low, promise.limit, units)} to ${densityAgainst(promise.high, promise.limit, units)}`,
      ...(inFeet ? [promise.value === null ? '-' : densityAgainst(promise.value, promise.limit)] : []),
      limitFigure(promise.limit),
      ...(judge === 'detail' ? [promise.byPixels] : []),
    ],
    note: promise.why,
  }))
  const head = ['promised', 'at', 'light', 'reference', 'verdict', 'px/m', '95 %', 'limit']
  if (inFeet) head.splice(5, 3, 'px/ft', '95 %', 'px/m', 'limit, px/m')
  if (judge === 'detail') head.push('by pixels')
  return `Promises\n${textTable(head, rows, ['left', 'right', 'left', 'left', 'left', 'right', 'left', 'right', ...(inFeet ? (['right'] as const) : [])])}`
}

function rangeTable(ranges: readonly Range[], grading: Grading, judge: Judge, units: UnitSystem): string {
  const told = groupBy(
    ranges.filter(({ kind, basis }) => kind !== 'none' && (judge === 'detail' || basis === 'pixels')),
    (range) => [range.light, range.reference, range.grade].join('\n'),
  )
  if (told.size === 0) return ''
  const rows = [...told.values()].map((bases) => {
    const { light, reference, grade } = bases[0]!
    const reachBy = (basis: Range['basis']): string =>
      reach(
        bases.find((range) => range.basis === basis),
        units,
      )
    const cells = [light, reference, gradeNameOf(grade, grading), reachBy('pixels')]
    return { cells: judge === 'detail' ? [...cells, reachBy('detail')] : cells }
  })
  const head = ['light', 'reference', 'grade', 'by pixels', ...(judge === 'detail' ? ['with detail'] : [])]
  return `How far each grade holds\n${textTable(head, rows)}`
}

/** How far a grade holds, in words: "17.6 m (17.4 to 17.9)", "between 16 and 20 m", "at least 20 m". */
function reach(range: Range | undefined, units: UnitSystem): string {
  if (range === undefined) return 'not shown'
  const { distance, low, high } = range
  const measures = measuresFor(units)
  const unit = measures.lengthUnit
  const from = range.from === null ? '' : `, from ${distanceText(range.from, units)} on`
  const figure = (lengthM: number | null): string =>
    lengthM === null ? '?' : trimmed(lengthIn(measures, lengthM), 1)
  if (range.kind === 'bracketed') return `between ${figure(low)} and ${figure(high)} ${unit}${from}`
  if (distance === null)
    return low === null ? `under ${figure(high)} ${unit}${from}` : `at least ${figure(low)} ${unit}${from}`
  const beyond = range.kind === 'extrapolated' ? ', beyond the marks' : ''
  return `${figure(distance)} ${unit} (${figure(low)} to ${figure(high)})${beyond}${from}`
}

function projectionLine(projection: WalkResults['projection']): string {
  if (projection === null) return ''
  const { p, low, high, from, pixelsPerRadian } = projection
  const source = from === 'walk' ? 'measured on this walk' : "the data sheet's, which the walk agrees with"
  const figures = pixelsPerRadian
    .map(
      (each) => `${each.light} ${each.value.toFixed(0)} (${each.low.toFixed(0)} to ${each.high.toFixed(0)})`,
    )
    .join(', ')
  return `Corners were read through the lens, ${source}: p = ${p.toFixed(2)} (${low.toFixed(2)} to ${high.toFixed(2)}), px per radian in the middle of the picture: ${figures}\n`
}

function lensLines(lenses: WalkResults['lens'], units: UnitSystem): string {
  const lines = lenses.flatMap((lens) =>
    lens.suspect === null
      ? []
      : [
          `${lens.light}, ${lens.reference}: the ${distanceText(lens.suspect.distance, units)} mark does not fit the others, it fits ${distanceText(lens.suspect.fits, units)}: left out, tape it again`,
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
