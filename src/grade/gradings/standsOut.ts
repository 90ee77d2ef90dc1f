import type { RoseK, StillMeasurement } from '../../measure/stillMeasurement.js'
import { decide } from './decide.js'
import { DEFAULT_LEAST_ROSE_K, type Grading } from './grading.js'
import type { Verdict } from '../judgement.js'

/**
 * Whether a grade's element stands out by Rose's criterion: the least k of the grading held against k - U and k + U;
 * null where k could not be told, which blocks no grade.
 */
export function standsOut(rose: RoseK | null | undefined, grading: Grading): Verdict | null {
  if (rose === null || rose === undefined || Number.isNaN(rose.k) || Number.isNaN(rose.U)) return null
  return decide({ low: rose.k - rose.U, high: rose.k + rose.U }, rose.least ?? leastRoseK(grading))
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
