import type { Estimate } from '../../math/interval.js'
import { fault, type Said } from '../../sentences.js'
import type { Figures } from '../../units/figures.js'
import type { Grade, Grading } from '../gradings/grading.js'
import type { Basis, GradePromise, PromiseResult, RangeResult, Verdict } from '../judgement.js'
import { answerPromise, markAt, type PromiseAnswer } from './answerPromise.js'
import { answerMustNotSee } from './mustNotSee.js'
import type { MarkMeasurement } from '../marks/markMeasurement.js'
import { whyApart } from '../marks/seriesSize.js'
import type { Series } from '../range/series.js'
import { gradeSays } from '../sentences.js'

/** A series with its ranges, ready to be held against promises. */
export interface RangedSeries {
  readonly series: Series
  readonly ranges: readonly RangeResult[]
}

const WORST_FIRST: readonly Verdict[] = ['not met', 'not shown', 'met']

/**
 * Judges one promise. A promise without a reference is held against every reference
 * measured at its distance in its light (where none was, against every one in its light; a grade that must not be reached, always), and the worst decides; `decidedBy` names it, and so does `why`
 * where more than one was carried on the walk. `apart` are the marks of which no still counts: they change words, never a verdict.
 * `projection` is p of the walk's lens, where it is known.
 * @throws `ProofwalkError` `unknown-grade` where the grading has no such grade
 */
export function judgePromise(
  promise: GradePromise,
  all: readonly RangedSeries[],
  grading: Grading,
  judge: Basis,
  figures: Figures,
  apart: readonly MarkMeasurement[] = [],
  projection: Estimate | null = null,
): PromiseResult {
  const grade = gradeOf(promise, grading)
  const isMeant = ({ light, reference }: Pick<Series, 'light' | 'reference'>): boolean =>
    light === promise.light && (promise.reference === undefined || reference === promise.reference)
  const inLight = all.filter(({ series }) => isMeant(series))
  const measuredThere = inLight.filter(({ series }) => markAt(series, promise.distanceM) !== undefined)
  const isMost = promise.kind === 'most'
  const candidates = measuredThere.length > 0 && !isMost ? measuredThere : inLight
  const question = { distanceM: promise.distanceM, grade, grading, judge, figures }
  const answers = candidates.map(({ series, ranges }) => ({
    reference: series.reference,
    ...(isMost
      ? answerMustNotSee(promise.distanceM, grade, series, projection, figures)
      : answerPromise({ ...question, apart: apart.filter((mark) => isOf(mark, series)) }, series, ranges)),
  }))
  const worst = answers.toSorted(isMost ? denserFirst : worseFirst)[0]
  const isNamed =
    promise.reference === undefined && new Set(all.map(({ series }) => series.reference)).size > 1
  const result = {
    grade: promise.grade,
    distance: promise.distanceM,
    light: promise.light,
    reference: promise.reference ?? null,
    basis: isMost ? ('pixels' as const) : judge,
    limit: grade.limit,
  }
  const asked = {
    task: promise.task ?? null,
    what: promise.what ?? null,
    kind: promise.kind ?? 'least',
  } as const
  if (worst === undefined) {
    const { reference, light, distanceM } = promise
    const left = apart
      .filter(isMeant)
      .flatMap(({ stills }) => whyApart(stills[0]!.measurement.problems) ?? [])
    const said: Said =
      left[0] === undefined
        ? gradeSays['nothing-measured'](reference, light, figures.distance(distanceM))
        : gradeSays['none-counts'](left[0].message)
    const nothing = { value: null, low: null, high: null, onOtherBasis: null, decidedBy: null }
    return {
      ...result,
      ...nothing,
      verdict: 'not shown',
      byPixels: 'not shown',
      why: said.message,
      mend: said.mend ?? null,
      ...asked,
    }
  }
  return {
    ...result,
    verdict: worst.verdict,
    byPixels: WORST_FIRST.find((verdict) => answers.some(({ byPixels }) => byPixels === verdict))!,
    value: worst.density?.value ?? null,
    low: worst.density?.low ?? null,
    high: worst.density?.high ?? null,
    onOtherBasis: worst.onOtherBasis,
    decidedBy: worst.reference,
    why: isNamed ? `${worst.reference}: ${worst.why}` : worst.why,
    mend: worst.mend,
    ...asked,
  }
}

function isOf(mark: MarkMeasurement, { light, reference }: Series): boolean {
  return mark.light === light && mark.reference === reference
}

function gradeOf(promise: GradePromise, grading: Grading): Grade {
  const grade = grading.grades.find(({ id }) => id === promise.grade)
  if (grade !== undefined) return grade
  const known = grading.grades.map(({ id }) => id)
  throw fault(gradeSays['unknown-grade'](grading.name, promise.grade, known), { field: 'promises' })
}

function byVerdict(a: PromiseAnswer, b: PromiseAnswer): number {
  return WORST_FIRST.indexOf(a.verdict) - WORST_FIRST.indexOf(b.verdict)
}

function worseFirst(a: PromiseAnswer, b: PromiseAnswer): number {
  return byVerdict(a, b) || (a.density?.low ?? 0) - (b.density?.low ?? 0)
}

function denserFirst(a: PromiseAnswer, b: PromiseAnswer): number {
  return byVerdict(a, b) || (b.density?.high ?? 0) - (a.density?.high ?? 0)
}
