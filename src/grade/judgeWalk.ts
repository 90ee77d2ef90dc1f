import type { Estimate } from '../math/interval.js'
import { figuresFor } from '../units/figures.js'
import type { UnitSystem } from '../units/formatLength.js'
import { compareLights } from './compareLights.js'
import { causeFindings } from './court/causeFindings.js'
import { type MeasuredSeries, seriesInOrder } from './court/seriesInOrder.js'
import { DEFAULT_FULL_DETAIL_AT, type Grading, limitsOf } from './gradings/grading.js'
import type {
  Basis,
  GradePromise,
  JudgedStill,
  LensResult,
  MarkResult,
  Observation,
  PromiseResult,
  WalkFinding,
  WalkJudgement,
  WalkPromise,
} from './judgement.js'
import { lensResult } from './lensResult.js'
import { apartResult, markResult } from './markResult.js'
import { boundFindings } from './marks/boundFindings.js'
import { type MarkMeasurement, ONE_MARK_M } from './marks/markMeasurement.js'
import { whyApart } from './marks/seriesSize.js'
import { readingAgainstDensity } from './promises/readingAgainstDensity.js'
import { pixelsThere } from './promises/pixelsThere.js'
import { judgePromise } from './promises/promises.js'
import { isReadPromise, type JudgedReading, judgeReadPromise } from './promises/readPromise.js'
import { ranges } from './range/ranges.js'
import type { Series } from './range/series.js'
import { sceneEvidence } from './scene/sceneEvidence.js'
import { sceneFindings } from './scene/sceneFindings.js'
import type { Scene } from '../scene/scene.js'
import { problem } from '../sentences.js'
import { printedUncertainty } from '../units/printedEstimate.js'
import { gradeSays } from './sentences.js'
import { triggers } from './triggers.js'

/** A walk ready to be judged. Lights and references stand in the walk's order, which is the order of all results. */
export interface WalkToJudge extends MeasuredSeries {
  readonly grading: Grading
  readonly judge: Basis
  readonly promises: readonly WalkPromise[]
  /** What was read on it, with the shares read where reading is promised; nothing unless given. */
  readonly readings?: readonly JudgedReading[]
  readonly observations: readonly Observation[]
  /** Pixels per radian by the data sheet, both readings. */
  readonly promisedLens: LensResult['promised']
  /** p of the walk's lens; null or left out where it is not known. */
  readonly projection?: Estimate | null
  /** Where the tape begins before the lens, metres: in the distances already; 0 unless said. */
  readonly beginsM?: number
  /** How its stills lie against each other; null or not given where it was not told. */
  readonly registered?: Scene | null
  /** Units the sentences are written in; metric unless said. */
  readonly units?: UnitSystem
}

/**
 * Judges a measured walk, all per light and reference: repeats to marks, marks to one constant, the constant to ranges and the measured lens, marks and
 * ranges to promises. Stills that stand apart (see `whyApart`) are shown where no other stands and move nothing. Distances metres as taped, densities px/m.
 * @throws `ProofwalkError` `unknown-grade` where a promise names a grade the grading has not
 */
export function judgeWalk(walk: WalkToJudge): WalkJudgement {
  const { grading, judge } = walk
  const figures = figuresFor(
    walk.units ?? 'metric',
    limitsOf(grading),
    walk.promises.map(({ distanceM }) => distanceM),
  )
  const isApart = ({ measurement }: JudgedStill): boolean => whyApart(measurement.problems) !== undefined
  const counted = walk.stills.filter((still) => !isApart(still))
  const aside = walk.stills.filter(isApart)
  const { registered = null } = walk
  const scene = sceneEvidence(registered, counted)
  const fitted = seriesInOrder(
    { ...walk, stills: counted, scene },
    grading.fullDetailAt ?? DEFAULT_FULL_DETAIL_AT,
  )
  const all = fitted.series
  const ranged = all.map((series) => ({ series, ranges: ranges(series, grading) }))
  const apart = apartMarks(seriesInOrder({ ...walk, stills: aside }).series, all)
  const marks = [
    ...all.flatMap((series) => series.marks.map((mark) => markResult(mark, series, grading, judge, figures))),
    ...apart.map((mark) => apartResult(mark, grading, judge)),
  ]

  const causes = causeFindings(fitted, figures, walk.beginsM ?? 0)
  const lights = new Map(walk.stills.map(({ file, light }) => [file, light]))
  // What the marks tell of a zoom stands with their own figures.
  const ofScene = sceneFindings(registered, (file) => lights.get(file)).filter(
    ({ code, light }) => !causes.some((cause) => cause.code === code && cause.light === light),
  )
  const bounds =
    judge === 'pixels'
      ? []
      : boundFindings(
          all.flatMap((series) => series.marks),
          figures,
        )

  return {
    marks: apart.length === 0 ? marks : inOrder(marks, walk),
    ranges: ranged.flatMap((each) => each.ranges),
    lens: all.flatMap((series) => lensResult(series, walk.promisedLens) ?? []),
    promises: walk.promises.map((promise): PromiseResult => {
      const judged = (one: GradePromise): PromiseResult =>
        judgePromise(one, ranged, grading, judge, figures, apart, walk.projection)
      if (!isReadPromise(promise)) return judged(promise as GradePromise)
      const evidence = { readings: walk.readings ?? [], toleranceM: walk.distanceToleranceM, figures }
      return judgeReadPromise(promise, evidence, (reference) =>
        pixelsThere(promise, reference, ranged, grading, judged),
      )
    }),
    triggers: triggers(walk.observations, walk.lights),
    findings: [
      ...ofScene,
      ...causes,
      ...lentFindings(all),
      ...compareLights(all, figures),
      ...bounds,
      ...readingAgainstDensity(
        walk.readings ?? [],
        ranged.flatMap((each) => each.ranges),
        grading,
        judge,
        figures,
      ),
    ],
  }
}

/** The series whose densities rest on another light's marks. */
function lentFindings(all: readonly Series[]): WalkFinding[] {
  return all.flatMap(({ light, reference, fit }): WalkFinding[] => {
    const lent = fit?.lent ?? null
    if (lent === null) return []
    const within = printedUncertainty(100 * (Math.abs(lent.logScale) + lent.U))
    return [
      { ...problem(gradeSays['constant-lent'](light, reference, lent.light, within)), light, reference },
    ]
  })
}

/** The marks of which no still counts. */
function apartMarks(aside: readonly Series[], counted: readonly Series[]): MarkMeasurement[] {
  const marks = counted.flatMap((series) => series.marks)
  return aside
    .flatMap((series) => series.marks)
    .filter(
      (mark) =>
        !marks.some(
          ({ light, reference, distanceM }) =>
            light === mark.light &&
            reference === mark.reference &&
            Math.abs(distanceM - mark.distanceM) <= ONE_MARK_M + 1e-9,
        ),
    )
}

/** Marks in the walk's order of lights and references, then ascending. */
function inOrder(marks: readonly MarkResult[], { lights, references }: MeasuredSeries): MarkResult[] {
  return marks.toSorted(
    (a, b) =>
      lights.indexOf(a.light) - lights.indexOf(b.light) ||
      references.indexOf(a.reference) - references.indexOf(b.reference) ||
      a.distance - b.distance,
  )
}
