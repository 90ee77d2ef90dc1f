import type { AxisBudget } from './stillMeasurement.js'

/** How far outside an edge people click, one standard deviation per end, px, both ends alike: this project's convention. */
export const CLICK_BIAS_PX = 0.2

/** Relative standard uncertainty of a size with a tolerance, a rectangular distribution of that half-width (JCGM 100:2008, 4.3.7). */
export function toleranceRel(toleranceM: number, sizeM: number): number {
  return toleranceM / sizeM / Math.sqrt(3)
}

/** Expanded uncertainty U = 2 u of one axis' density, px/m; no part of it has few degrees of freedom. */
export function expandedU(axis: AxisBudget): number {
  return 2 * axis.densityPxPerM * Math.hypot(axis.cornersRel, axis.sizeRel, axis.bendRel, axis.clickBiasRel)
}
