import type { RectangleReference } from '../reference/reference.js'
import type { Problem } from '../stillMeasurement.js'
import { problem } from '../../sentences.js'
import { measureSays } from '../sentences.js'

/** From this ratio of the two densities on, a reference would have to be held turned by about 50 degrees: this project's convention. */
const FAR_FROM_SQUARE = 1.5
/** Begun at the next corner, the same points must then show pixels this nearly square: this project's convention. */
const NEARLY_SQUARE = 1.15

/**
 * Tells where the corners seem to begin at another corner than the reference's own top left: as given, its two densities lie far apart, and
 * with its sides swapped they would be alike. A strongly turned reference can look so too, so it is told and not corrected.
 */
export function cornersBegin(
  reference: RectangleReference,
  horizontalPxPerM: number,
  verticalPxPerM: number,
): Problem | null {
  const asGiven = Math.abs(Math.log(horizontalPxPerM / verticalPxPerM))
  const shape = reference.widthM / reference.heightM
  const swapped = Math.abs(Math.log((horizontalPxPerM / verticalPxPerM) * shape * shape))
  if (asGiven < Math.log(FAR_FROM_SQUARE) || swapped > Math.log(NEARLY_SQUARE)) return null
  return problem(measureSays['corners-begin-elsewhere'](reference.name))
}
