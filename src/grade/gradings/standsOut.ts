import type { RoseK } from '../../measure/stillMeasurement.js'
import { decide } from './decide.js'
import { DEFAULT_LEAST_ROSE_K, type Grading } from './grading.js'
import type { Verdict } from '../judgement.js'

/**
 * Whether a grade's element stands out by Rose's criterion: the least k of the grading held against k - U and k + U;
 * null where k could not be told, which blocks no grade.
 */
export function standsOut(rose: RoseK | null | undefined, grading: Grading): Verdict | null {
  if (rose === null || rose === undefined || Number.isNaN(rose.k) || Number.isNaN(rose.U)) return null
  return decide({ low: rose.k - rose.U, high: rose.k + rose.U }, leastRoseK(grading))
}

/** The least k a grading asks for. */
export function leastRoseK(grading: Grading): number {
  return grading.leastRoseK ?? DEFAULT_LEAST_ROSE_K
}
