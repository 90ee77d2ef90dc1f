import type {
  SharedMark,
  ComparableMark,
  ComparableWalk,
  ComparedFigure,
  ComparedMark,
  ComparedPromise,
  ComparedScene,
  ComparedSeries,
  PooledChange,
  WalkComparison,
} from './comparison.js'
import { normalQuantile } from '../../math/quantiles.js'
import { alongView } from './alongView.js'
import { comparisonFindings } from './comparisonFindings.js'
import { comparedAxis, decidingAxis, densityChange, type MarkPair, sharedAxes } from './densityChange.js'
import { detailChange, markF10 } from './detailChange.js'
import type { PromiseResult } from '../judgement.js'
import { allowedLog, expandedLog, type LogChange, pooledLog } from './logChange.js'
import { ONE_MARK_M } from '../marks/markMeasurement.js'
import { notComparable } from './notComparable.js'
import { pointing } from './pointing.js'
import { bestFirst } from './sceneChange.js'

/**
 * Chances that anything at all is called changed where nothing did, shared out evenly (Bonferroni): over the series' pooled figures, over the
 * single marks' figures, and for where the camera points. Together 5 in 100; this project's convention.
 */
const CHANCE = { series: 0.02, marks: 0.02, pointing: 0.01 }

/**
 * Holds two walks of the same camera against each other, mark by mark and over each light and reference together. Every change carries its
 * own 95 % interval; what is called significant is judged over all figures together, so that nothing is in 95 of 100 unchanged pairs. Where the camera points is told by
 * what does not move in its stills (`scene`, a light's after against before) where that is told of any light, else by what is carried. Of so many later pictures `alike`
 * says that they may be earlier ones.
 */
export function compareWalks(
  before: ComparableWalk,
  after: ComparableWalk,
  scene: readonly ComparedScene[] = [],
  alike = 0,
): WalkComparison {
  const promises = comparedPromises(before.promises, after.promises)
  const hindrances = notComparable(before, after, alike)
  if (hindrances.some(({ weight }) => weight === 'not comparable')) {
    return { scene: [], marks: [], series: [], findings: hindrances, promises }
  }
  const told = bestFirst(scene)
  const shared = sharedMarks(before, after)
  const groups = [...new Set(shared.map((mark) => seriesKey(mark.before)))].map((key) =>
    shared.filter((mark) => seriesKey(mark.before) === key),
  )
  const figures = shared.reduce((count, { f10 }) => count + (f10 === null ? 1 : 2), 0)
  const pooled = groups.reduce((count, group) => count + (group.some(({ f10 }) => f10 !== null) ? 2 : 1), 0)
  const marks = shared.map((mark) => comparedMark(mark, before, after, CHANCE.marks / figures))
  const series = groups.map((group) => comparedSeries(group, CHANCE.series / pooled))
  const aim = told.length > 0 ? null : pointing(shared, CHANCE.pointing)
  const findings = comparisonFindings({ before, after, shared, marks, series, pointing: aim, scene: told })
  return { scene: told, marks, series, findings: [...hindrances, ...findings], promises }
}

function seriesKey({ measured: { light, reference } }: ComparableMark): string {
  return JSON.stringify([light, reference])
}

function sharedMarks(before: ComparableWalk, after: ComparableWalk): SharedMark[] {
  return before.marks.flatMap((one): SharedMark[] => {
    const other = after.marks.find(
      (mark) =>
        seriesKey(mark) === seriesKey(one) &&
        Math.abs(mark.measured.distanceM - one.measured.distanceM) <= ONE_MARK_M + 1e-9,
    )
    if (other === undefined) return []
    const { reference } = one.measured
    const pair: MarkPair = {
      before: one.measured,
      after: other.measured,
      sameObject: before.references[reference] === after.references[reference],
      tapeM: { before: before.distanceToleranceM, after: after.distanceToleranceM },
    }
    if (sharedAxes(pair).length === 0) return []
    const axis = comparedAxis(pair)
    const density = densityChange(pair, { before: axis, after: axis })
    return [{ before: one, after: other, pair, density, f10: detailChange(one.measured, other.measured) }]
  })
}

/**
 * The change of what counts at a mark, from deciding axis to deciding axis. It is significant only where every axis that both walks measured says so:
 * a reference held turned shortens one of them.
 */
function comparedMark(
  { pair, f10 }: SharedMark,
  before: ComparableWalk,
  after: ComparableWalk,
  chance: number,
): ComparedMark {
  const { light, reference, distanceM } = pair.before
  const change = densityChange(pair, {
    before: decidingAxis(pair.before),
    after: decidingAxis(pair.after),
  })
  const sides = sharedAxes(pair).map((axis) => {
    const along = densityChange(pair, { before: axis, after: axis })
    return Math.abs(along.logRatio) > allowedLog(along, chance) ? Math.sign(along.logRatio) : 0
  })
  const U = expandedLog(change)
  return {
    light,
    reference,
    distance: distanceM,
    density: {
      before: pair.before.onTarget.value,
      after: pair.after.onTarget.value,
      change: pair.after.onTarget.value / pair.before.onTarget.value - 1,
      low: Math.exp(change.logRatio - U) - 1,
      high: Math.exp(change.logRatio + U) - 1,
      significant: Math.abs(sides.reduce((sum, side) => sum + side, 0)) === sides.length,
    },
    detail: f10 === null ? null : comparedDetail(pair, f10, before, after, chance),
  }
}

/** The change of the share of pixels that carry detail: that of f10, which counts up to where every pixel does. */
function comparedDetail(
  pair: MarkPair,
  f10: LogChange,
  before: ComparableWalk,
  after: ComparableWalk,
  chance: number,
): ComparedFigure {
  const share = (value: number, walk: ComparableWalk): number => Math.min(1, value / walk.fullDetailAt)
  const first = markF10(pair.before)!.f10
  const one = share(first, before)
  const changeOf = (log: number): number => share(first * Math.exp(log), after) / one - 1
  const U = expandedLog(f10)
  const allowed = allowedLog(f10, chance)
  const other = changeOf(f10.logRatio)
  return {
    before: one,
    after: one * (1 + other),
    change: other,
    low: changeOf(f10.logRatio - U),
    high: changeOf(f10.logRatio + U),
    significant: changeOf(f10.logRatio - allowed) > 0 || changeOf(f10.logRatio + allowed) < 0,
  }
}

function comparedSeries(group: readonly SharedMark[], chance: number): ComparedSeries {
  const { light, reference } = group[0]!.pair.before
  const detailed = group.flatMap(({ f10 }) => (f10 === null ? [] : [f10]))
  const density = pooledChange(pooledLog(group.map((mark) => mark.density)), chance)
  return {
    light,
    reference,
    marks: group.length,
    density: { ...density, significant: density.significant || movedAlong(group, chance) },
    f10: detailed.length === 0 ? null : pooledChange(pooledLog(detailed), chance),
  }
}

/**
 * Whether the marks of a series agree with a camera that moved along its view: a change that differs from mark to mark, which pooling takes for scatter. Asked only
 * beside the pooled change, where it adds next to no chance of its own: unchanged marks seldom slope so far.
 */
function movedAlong(group: readonly SharedMark[], chance: number): boolean {
  const along = alongView(group)
  if (along === null || !along.fits) return false
  return Math.abs(along.nearerM) > normalQuantile(1 - chance / 4) * along.nearerU
}

function pooledChange(change: LogChange, chance: number): PooledChange {
  const U = expandedLog(change)
  return {
    change: Math.exp(change.logRatio) - 1,
    low: Math.exp(change.logRatio - U) - 1,
    high: Math.exp(change.logRatio + U) - 1,
    significant: Math.abs(change.logRatio) > allowedLog(change, chance),
  }
}

function comparedPromises(
  before: readonly PromiseResult[],
  after: readonly PromiseResult[],
): ComparedPromise[] {
  const same = (one: PromiseResult, other: PromiseResult): boolean =>
    one.grade === other.grade &&
    one.kind === other.kind &&
    (one.kind !== 'read' || one.limit === other.limit) &&
    one.light === other.light &&
    one.reference === other.reference &&
    Math.abs(one.distance - other.distance) <= ONE_MARK_M + 1e-9
  const row = (
    { grade, distance, light, reference, kind, limit }: PromiseResult,
    first: PromiseResult | undefined,
    second: PromiseResult | undefined,
  ): ComparedPromise => ({
    grade,
    distance,
    light,
    reference,
    kind,
    limit,
    before: first?.verdict ?? null,
    after: second?.verdict ?? null,
  })
  return [
    ...before.map((one) =>
      row(
        one,
        one,
        after.find((other) => same(one, other)),
      ),
    ),
    ...after
      .filter((other) => !before.some((one) => same(one, other)))
      .map((other) => row(other, undefined, other)),
  ]
}
