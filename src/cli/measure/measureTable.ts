import { gradeSays } from '../../grade/sentences.js'
import type { WalkResults } from '../../walk/schemas/resultsSchema.js'
import { groupBy } from '../../math/groupBy.js'
import { sceneLines } from '../../grade/scene/sceneFindings.js'
import { withMend } from '../../sentences.js'
import { judgedDensity, standingOf } from '../../sheet/acceptance/verdictSentences.js'
import { askedDetail, gradeNameOf, limitsOf, promisedName } from '../../grade/gradings/grading.js'
import { type Figures, figuresFor, figuresOf } from '../../units/figures.js'
import { estimateText } from '../../units/printedEstimate.js'
import { cliSays } from '../sentences.js'
import { markTables } from './markTables.js'
import { readingTable, readPromiseTable } from './readingTable.js'
import { escaped, oneLine } from '../../files/oneLine.js'
import { linesOfKinds } from '../terminal/manyOfAKind.js'
import { textTable } from '../terminal/textTable.js'

type Range = WalkResults['ranges'][number]

/**
 * What `measure` prints of a walk: per light and reference its marks, then each promise, how far each grade holds, what was found on the walk
 * as a whole, and every file not measured with its mend. The discount for detail stands in columns of its own, never under the standard's
 * name, and a walk judged by pixels claims no grade with detail.
 */
export function measureTable(results: WalkResults): string {
  const figures = figuresOf(results)
  return [
    ...markTables(results),
    readPromiseTable(results, figures),
    promiseTable(results, figures, false),
    promiseTable(results, figures, true),
    rangeTable(results, figures),
    readingTable(results, figures),
    projectionLine(results.projection),
    sceneText(results),
    findingLines(results.findings),
    notMeasured(results),
  ]
    .filter((part) => part !== '')
    .join('\n')
}

/** The promises, or what must not be seen, which is judged by pixels alone. */
function promiseTable(results: WalkResults, figures: Figures, isMost: boolean): string {
  const { grading } = results
  const promises = results.promises.filter(({ kind }) => kind === (isMost ? 'most' : 'least'))
  if (promises.length === 0) return ''
  const judge = isMost ? 'pixels' : results.walk.judge
  const inFeet = !figures.isMetric
  const inMetres = figuresFor('metric', limitsOf(grading))
  const rows = promises.map((promise) => {
    const density = judgedDensity(promise, results)
    const cells = [
      promisedName(promise, grading),
      figures.distance(promise.distance),
      promise.light,
      promise.reference ?? 'every',
      promise.verdict,
      density === null ? '-' : figures.density(density).value,
      density === null ? '' : figures.interval(density),
      ...(inFeet ? [density === null ? '-' : inMetres.density(density).value] : []),
      figures.bareLimit(promise.limit),
      ...(judge === 'detail' ? [standingOf(promise, 'pixels', results)] : []),
    ]
    const what = promise.what === null ? '' : `${promise.what}: `
    return { cells, note: `${what}${withMend(promise.why, promise.mend)}` }
  })
  const head = ['promised', 'at', 'light', 'reference', 'verdict', 'px/m', '95 %', 'limit']
  if (inFeet) head.splice(5, 3, 'px/ft', '95 %', 'px/m', 'limit, px/m')
  if (judge === 'detail') head.push('by pixels')
  return `${isMost ? 'What it must not see, anywhere in the exported picture (another stream or a zoom may see more)' : 'Promises'}\n${textTable(head, rows, ['left', 'right', 'left', 'left', 'left', 'right', 'left', 'right', ...(inFeet ? (['right'] as const) : [])])}`
}

function rangeTable({ ranges, grading, walk: { judge } }: WalkResults, figures: Figures): string {
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
        figures,
      )
    const found = grading.grades.find(({ id }) => id === grade)
    const asked = found === undefined ? '-' : figures.stroke(askedDetail(found, grading))
    const cells = [light, reference, gradeNameOf(grade, grading), asked, reachBy('pixels')]
    return { cells: judge === 'detail' ? [...cells, reachBy('detail')] : cells }
  })
  const stroke = `stroke asked, ${figures.strokeUnit}`
  const head = [
    'light',
    'reference',
    'grade',
    stroke,
    'by pixels',
    ...(judge === 'detail' ? ['with detail'] : []),
  ]
  return `How far each grade holds\n${textTable(head, rows, ['left', 'left', 'left', 'right'])}`
}

/** How far a grade holds, in words: "17.63 m (17.41 to 17.88)", "between 16 and 20 m", "at least 20 m". */
function reach(range: Range | undefined, figures: Figures): string {
  if (range === undefined || (range.low === null && range.high === null)) return 'not shown'
  const { distance, low, high, kind, lentBy } = range
  const lent = lentBy === undefined ? '' : `, ${gradeSays['lent-by'](lentBy).message}`
  const from = range.from === null ? '' : `, from ${figures.distance(range.from)} on`
  const mark = (distanceM: number | null): string =>
    distanceM === null ? '?' : figures.bareDistance(distanceM)
  const unit = figures.lengthUnit
  if (distance === null || low === null || high === null) {
    const few = kind === 'too-few' ? '; too few marks to say more' : ''
    if (low === null) return `under ${mark(high)} ${unit}${few}${lent}`
    const held =
      high === null
        ? `at least ${mark(low)} ${unit}, no mark fails it`
        : `between ${mark(low)} and ${mark(high)} ${unit}`
    return `${held}${from}${few}${lent}`
  }
  const printed = figures.reach({ value: distance, low, high })
  const beyond = kind === 'extrapolated' ? ', beyond the marks' : ''
  return `${printed.value} ${unit} (${printed.low} to ${printed.high})${beyond}${from}${lent}`
}

function projectionLine(projection: WalkResults['projection']): string {
  if (projection === null) return ''
  const { p, low, high, from, pixelsPerRadian } = projection
  const figures = pixelsPerRadian.map((each) => `${each.light} ${estimateText(each)}`).join(', ')
  const interval = estimateText({ value: p, low, high })
  return `${cliSays['read-through-lens'](from === 'walk', interval, figures).message}\n`
}

function sceneText({ scene, stills }: WalkResults): string {
  return scene === null ? '' : `${sceneLines(scene, stills).join('\n')}\n`
}

function findingLines(findings: WalkResults['findings']): string {
  if (findings.length === 0) return ''
  return `Found on the walk as a whole\n${findings.map(({ message }) => `  ${oneLine(message, Infinity)}\n`).join('')}`
}

function notMeasured(results: WalkResults): string {
  const lines = linesOfKinds(
    [...results.failed, ...results.unassigned],
    (one) => ('code' in one ? String(one.code) : one.message.split('; ')[0]!),
    ({ file, message }) => `  ${escaped(file)}: ${oneLine(message, Infinity)}`,
  )
  return lines.length === 0 ? '' : `Not measured\n${lines.join('\n')}\n`
}
