import { FAILING_SHARE, type RoseK, type StillMeasurement } from '../../measure/stillMeasurement.js'
import { DEFAULT_LEAST_ROSE_K, type Grading } from './grading.js'
import type { Verdict } from '../judgement.js'

/**
 * Whether a grade's element stands out by Rose's criterion: `met` where k - U reaches the least k of the grading, `not met` where k + U stays under what a
 * reader needs; null where k could not be told, which blocks no grade.
 */
export function standsOut(rose: RoseK | null | undefined, grading: Grading): Verdict | null {
  if (rose === null || rose === undefined || Number.isNaN(rose.k) || Number.isNaN(rose.U)) return null
  const least = rose.least ?? leastRoseK(grading)
  if (rose.k - rose.U >= least) return 'met'
  const failing = rose.least === undefined ? FAILING_SHARE * least : least
  return rose.k + rose.U < failing ? 'not met' : 'not shown'
}

/** k per grade that a still is judged by: of its strips where they were read, else of its own two levels. */
export function judgedK({
  strip,
  tone,
}: Pick<StillMeasurement, 'strip' | 'tone'>): Readonly<Record<string, RoseK | null>> {
  return strip?.k ?? tone?.roseK ?? {}
}

/** The least k a grading asks for. */
export function leastRoseK(grading: Grading): number {
  return grading.leastRoseK ?? DEFAULT_LEAST_ROSE_K
}
