import { pointToRay } from '../../lens/projection.js'
import { success, type Outcome } from '../../math/outcome.js'
import type { Ends } from '../../math/point.js'
import { commonBiasPx, expandedU, toleranceRel } from './axisBudget.js'
import { bendRelFromAngle, bendRelFromShare } from './bendUncertainty.js'
import type { MeasuredDensity, DensityContext } from './measuredDensity.js'
import { checkEnds, type EndFailure } from './endSet.js'
import type { Pick } from '../reference/pick.js'
import { pickCovariance, propagatedVariance } from './pickCovariance.js'
import { lengthThroughLens } from './lengthThroughLens.js'
import type { LengthReference } from '../reference/reference.js'
import type { AxisBudget } from '../stillMeasurement.js'

export type EndPick = Extract<Pick, { kind: 'ends' }>

/** The density of a straight length along itself, from its two ends, as `measureDensity` describes it. */
export function lengthDensity(
  reference: LengthReference,
  pick: EndPick,
  context: DensityContext,
): Outcome<MeasuredDensity, EndFailure> {
  const checked = checkEnds(pick.ends, context.stillWidth, context.stillHeight)
  if (!checked.ok) return checked
  const [[x1, y1], [x2, y2]] = checked.value
  const lengthPx = Math.hypot(x2 - x1, y2 - y1)
  const known = context.known ?? null
  const byLens = known === null ? null : lengthThroughLens(checked.value, known)
  const alongX = (x2 - x1) / lengthPx
  const alongY = (y2 - y1) / lengthPx
  const variance = propagatedVariance([-alongX, -alongY, alongX, alongY], pickCovariance(pick, [0, 1]))
  const along: AxisBudget = {
    densityPxPerM: ((byLens?.stretch ?? 1) * lengthPx) / reference.lengthM,
    cornersRel: Math.sqrt(variance) / lengthPx,
    sizeRel: toleranceRel(reference.toleranceM, reference.lengthM),
    bendRel: byLens === null ? lengthBendRel(checked.value, lengthPx, reference.lengthM, context) : 0,
    clickBiasRel: (2 * commonBiasPx(pick.method)) / lengthPx,
    ...(byLens === null ? {} : { lens: byLens.axis }),
  }
  const onTarget = along.densityPxPerM
  const U = expandedU(along)
  return success({
    corners: checked.value,
    density: {
      horizontal: null,
      horizontalU: null,
      vertical: null,
      verticalU: null,
      onTarget,
      low: Math.max(0, onTarget - U),
      high: onTarget + U,
      facing: null,
    },
    budget: { horizontal: null, vertical: null, along },
    pose: null,
    problems: [],
  })
}

function lengthBendRel(ends: Ends, lengthPx: number, lengthM: number, context: DensityContext): number {
  const distanceM = context.distanceM ?? null
  if (distanceM !== null) return bendRelFromAngle(lengthM / 2 / distanceM)
  const lens = context.lens ?? null
  const first = lens === null ? null : pointToRay(lens, ends[0])
  const second = lens === null ? null : pointToRay(lens, ends[1])
  if (first !== null && second !== null) {
    const chord = Math.hypot(first[0] - second[0], first[1] - second[1], first[2] - second[2])
    return bendRelFromAngle(Math.asin(Math.min(1, chord / 2)))
  }
  return bendRelFromShare(lengthPx / Math.hypot(context.stillWidth, context.stillHeight))
}
