import { expandedU } from './axisBudget.js'
import type { PickMethod } from '../reference/pick.js'
import type { AxisBudget, Problem } from '../stillMeasurement.js'
import { problem } from '../../sentences.js'
import { measureSays } from '../sentences.js'

/** Where the height's relative uncertainty is this many times the width's and decides the lower end, it is told: this project's convention. */
const FAR_WORSE = 2

/**
 * Says so where the lower end of a rectangle's density is that of its height, only because a height of few pixels is poorly known: a
 * plate is hardly a fifth as high as it is wide.
 */
export function heightProblems(
  horizontal: AxisBudget,
  vertical: AxisBudget,
  heightM: number,
  method: PickMethod,
): Problem[] {
  const uH = expandedU(horizontal)
  const uV = expandedU(vertical)
  const relH = uH / horizontal.densityPxPerM
  const relV = uV / vertical.densityPxPerM
  const decides = vertical.densityPxPerM - uV < horizontal.densityPxPerM - uH
  const pointsDecide = Math.hypot(vertical.cornersRel, vertical.clickBiasRel) > relV / 2 / Math.SQRT2
  if (!decides || !pointsDecide || relV < FAR_WORSE * relH) return []
  const heightPx = vertical.densityPxPerM * heightM
  return [problem(measureSays['height-decides'](heightPx, relV, method === 'hand'))]
}
