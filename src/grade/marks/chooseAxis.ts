import { centredDensity } from './commonDraws.js'
import { expandedRel } from './combineAxis.js'
import type { Axis, MarkMeasurement } from './markMeasurement.js'

/**
 * The axis a mark is fitted with: the better known one (smaller relative U), unless the other shows more density by more than their joint U:
 * then the better known one is plainly shortened, as a board's height is near a camera that looks down.
 */
export function chooseAxis(mark: MarkMeasurement): Axis {
  const { horizontal, vertical } = mark.axes
  if (horizontal === null || vertical === null) {
    return horizontal !== null ? 'horizontal' : vertical !== null ? 'vertical' : 'along'
  }
  const horizontalU = expandedRel(horizontal)
  const verticalU = expandedRel(vertical)
  const betterKnown: Axis = verticalU < horizontalU ? 'vertical' : 'horizontal'
  const logRatio = Math.log(centredDensity(vertical) / centredDensity(horizontal))
  const otherExceedsBy = betterKnown === 'horizontal' ? logRatio : -logRatio
  const other: Axis = betterKnown === 'vertical' ? 'horizontal' : 'vertical'
  return otherExceedsBy <= Math.hypot(horizontalU, verticalU) ? betterKnown : other
}
