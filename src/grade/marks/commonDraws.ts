import type { AxisBudget } from '../../measure/stillMeasurement.js'
import type { Axis } from './markMeasurement.js'

/** How many draws are common to all stills of a reference in a walk: its width, its height, the bend of the lens, the click bias, and two of a known lens. */
export const COMMON_DRAWS = 6
/** Which of them the bend is, and which those of a known lens. */
export const BEND_DRAW = 2
export const LENS_DRAWS: readonly number[] = [4, 5]

/**
 * The relative change of one axis' density, as it would be in the middle of the picture (see `centredDensity`), when each common draw is one standard
 * deviation up, signed: width (or length), height, bend, click bias, the two draws of a known lens. Width and height are cut apart, so they are two
 * draws; the others move both axes together.
 */
export function commonLoads(budget: AxisBudget, axis: Axis): readonly number[] {
  const upright = axis === 'vertical'
  const { sizeRel, bendRel, clickBiasRel, lens } = budget
  const byLens = lens === undefined ? [0, 0] : lens.loadsRel.map((load, i) => load - lens.gainLoadsRel[i]!)
  return [upright ? 0 : sizeRel, upright ? sizeRel : 0, bendRel, clickBiasRel, ...byLens]
}

/** The same of what the place in the frame makes of a density: nothing but the lens. */
export function gainLoads({ lens }: AxisBudget): readonly number[] {
  return [0, 0, 0, 0, ...(lens?.gainLoadsRel ?? [0, 0])]
}

/** px/m the reference would have, held the same way at the same distance, in the middle of the picture; as measured where no lens is known. */
export function centredDensity(budget: AxisBudget): number {
  return budget.densityPxPerM / (budget.lens?.gain ?? 1)
}
