import { figuresFor } from '../units/figures.js'
import type { UnitSystem } from '../units/formatLength.js'
import { compareLights } from './compareLights.js'
import { causeFindings } from './court/causeFindings.js'
import { type MeasuredSeries, seriesInOrder } from './court/seriesInOrder.js'
import { type Grading, limitsOf } from './gradings/grading.js'
import type { Basis, GradePromise, LensResult, Observation, WalkJudgement } from './judgement.js'
import { lensResult } from './lensResult.js'
import { markResult } from './markResult.js'
import { judgePromise } from './promises/promises.js'
import { ranges } from './range/ranges.js'
import { triggers } from './triggers.js'

/** A walk ready to be judged. Lights and references stand in the walk's order, which is the order of all results. */
export interface WalkToJudge extends MeasuredSeries {
  readonly grading: Grading
  readonly judge: Basis
  readonly promises: readonly GradePromise[]
  readonly observations: readonly Observation[]
  /** Pixels per radian by the data sheet, both readings. */
  readonly promisedLens: LensResult['promised']
  /** Units the sentences are written in; metric unless said. */
  readonly units?: UnitSystem
}

/**
 * Judges a measured walk, all per light and reference: repeats to marks, marks to one constant, the constant to ranges and the measured lens, marks and
 * ranges to promises. Distances metres as taped, densities px/m.
 * @throws `ProofwalkError` `unknown-grade` where a promise names a grade the grading has not
 */
export function judgeWalk(walk: WalkToJudge): WalkJudgement {
  const { grading, judge } = walk
  const figures = figuresFor(
    walk.units ?? 'metric',
    limitsOf(grading),
    walk.promises.map(({ distanceM }) => distanceM),
  )
  const fitted = seriesInOrder(walk)
  const all = fitted.series
  const ranged = all.map((series) => ({ series, ranges: ranges(series, grading) }))

  return {
    marks: all.flatMap((series) =>
      series.marks.map((mark) => markResult(mark, series, grading, judge, figures)),
    ),
    ranges: ranged.flatMap((each) => each.ranges),
    lens: all.flatMap((series) => lensResult(series, walk.promisedLens) ?? []),
    promises: walk.promises.map((promise) => judgePromise(promise, ranged, grading, judge, figures)),
    triggers: triggers(walk.observations, walk.lights),
    findings: [...causeFindings(fitted, figures), ...compareLights(all, figures)],
  }
}
