import type { AxisBudget } from '../measure/stillMeasurement.js'
import type { Axis } from './markMeasurement.js'

/** How many draws are common to all stills of a reference in a walk: its width, its height, the bend of the lens, the click bias. */
export const COMMON_DRAWS = 4

/**
 * The relative change of one axis' density when each common draw is one standard deviation up, signed: width (or length), height, bend,
 * click bias. Width and height are cut apart, so they are two draws; bend and click bias move both axes together.
 */
export function commonLoads(budget: AxisBudget, axis: Axis): readonly number[] {
  const upright = axis === 'vertical'
  return [upright ? 0 : budget.sizeRel, upright ? budget.sizeRel : 0, budget.bendRel, budget.clickBiasRel]
}
