import type { MeasuredDensity, DensityFailure, DensityContext } from './measuredDensity.js'
import { failure, type Outcome } from '../../math/outcome.js'
import { lengthDensity } from './lengthDensity.js'
import type { Pick } from '../reference/pick.js'
import { rectangleDensity } from './rectangleDensity.js'
import type { Reference } from '../reference/reference.js'
import { fault } from '../../sentences.js'
import { measureSays } from '../sentences.js'

/**
 * How many pixels fall on a metre of the reference at its centre, px/m.
 *
 * A rectangle: the homography through its four corners, its Jacobian at the centre, the lengths of its two columns.
 * `onTarget` is the smaller; the interval is the smaller of the lower and the smaller of the upper ends. A length: along itself only.
 * Uncertainty (JCGM 100:2008): the points' noise by first order through the whole calculation; size tolerance, rectangular;
 * for points clicked by hand the click bias; U is twice their root sum of squares, plus the greatest bend of an unknown lens. `facing` is what a target square to the ray would
 * get there with a lens, and without one the larger singular value of the Jacobian, an upper bound.
 * Points in px, (0,0) the outer corner of the top-left pixel. Fails, by name, where the points are no outline of the
 * reference inside the still; throws for arguments that are no sizes.
 */
export function measureDensity(
  reference: Reference,
  pick: Pick,
  context: DensityContext,
): Outcome<MeasuredDensity, DensityFailure> {
  requireSizes(reference, context)
  if (reference.kind === 'rectangle' && pick.kind === 'corners')
    return rectangleDensity(reference, pick, context)
  if (reference.kind === 'length' && pick.kind === 'ends') return lengthDensity(reference, pick, context)
  const needed = reference.kind === 'rectangle' ? 'four-corners-needed' : 'two-ends-needed'
  return failure(measureSays[needed](reference.name))
}

function requireSizes(reference: Reference, context: DensityContext): void {
  const sizes = reference.kind === 'rectangle' ? [reference.widthM, reference.heightM] : [reference.lengthM]
  const tolerances =
    reference.kind === 'rectangle'
      ? [reference.widthToleranceM, reference.heightToleranceM]
      : [reference.toleranceM]
  const positive = [...sizes, context.stillWidth, context.stillHeight, context.distanceM ?? 1]
  if (!positive.every((size) => size > 0 && size < Infinity)) {
    throw fault(measureSays['sizes-not-positive'](positive))
  }
  if (!tolerances.every((tolerance, i) => tolerance >= 0 && tolerance < sizes[i]!)) {
    throw fault(measureSays['tolerances-too-large'](tolerances))
  }
}
