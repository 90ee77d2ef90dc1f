import { FAILING_SHARE, type RoseK } from '../../measure/stillMeasurement.js'
import { DEFAULT_LEAST_ROSE_K, type Grading } from './grading.js'
import type { Verdict } from '../judgement.js'

/**
 * Whether a grade's element stands out by Rose's criterion: `met` where k - U reaches the least k of the grading, `not met` where k + U stays under what a
 * reader needs; null where k could not be told, which blocks no grade.
 */
export function standsOut(rose: RoseK | null | undefined, grading: Grading): Verdict | null {
  if (rose === null || rose === undefined || Number.isNaN(rose.k) || Number.isNaN(rose.U)) return null
  const least = leastRoseK(grading)
  if (rose.k - rose.U >= least) return 'met'
  return rose.k + rose.U < FAILING_SHARE * least ? 'not met' : 'not shown'
}

/** The least k a grading asks for. */
export function leastRoseK(grading: Grading): number {
  return grading.leastRoseK ?? DEFAULT_LEAST_ROSE_K
}
