import { failure, success, type Outcome } from '../../math/outcome.js'
import type { KnownLens } from '../../lens/knownLens.js'
import type { Quad } from '../../math/point.js'
import { commonBiasPx, toleranceRel, outwardShift } from './axisBudget.js'
import { bendRelFromAngle, bendRelFromShare, chartBendRel } from './bendUncertainty.js'
import { cornersBegin } from './cornersBegin.js'
import { orderCorners, type CornerFailure } from './cornerSet.js'
import type { DensityContext, MeasuredDensity } from './measuredDensity.js'
import { heightProblems } from './heightDecides.js'
import { greatestStretch } from '../../math/homography.js'
import type { Pick } from '../reference/pick.js'
import { pickCovariance, propagatedVariance } from './pickCovariance.js'
import { facingDensity, referencePose, type ReferencePose } from '../pose/pose.js'
import { cornerSlopes, lensSlopes, rectangleAxes } from './rectangleAxes.js'
import type { RectangleReference } from '../reference/reference.js'
import type { AxisBudget } from '../stillMeasurement.js'
import { problem } from '../../sentences.js'
import { measureSays } from '../sentences.js'
import { axesDensity, hullDensity } from './hullDensity.js'

export type CornerPick = Extract<Pick, { kind: 'corners' }>

/**
 * The density of a rectangle from its four corners, as `measureDensity` describes it. Where the fit doubted its outline, each axis is the hull of what all outlines
 * give, its value the hull's middle.
 */
export function rectangleDensity(
  reference: RectangleReference,
  pick: CornerPick,
  context: DensityContext,
): Outcome<MeasuredDensity, CornerFailure> {
  const own = outlineDensity(reference, pick, context)
  if (!own.ok || pick.doubts === undefined) return own
  const others = pick.doubts.flatMap(({ corners }) => {
    const other = corners === undefined ? null : outlineDensity(reference, { ...pick, corners }, context)
    return other?.ok === true ? [other.value] : []
  })
  return success({
    ...(others.length === 0 ? own.value : hullDensity([own.value, ...others])),
    corners: own.value.corners,
    pose: own.value.pose,
    problems: [
      problem(
        measureSays['pick-doubted'](
          pick.doubts.map(({ code }) => code),
          others.length,
        ),
      ),
      ...own.value.problems,
    ],
  })
}

/** What one outline gives. */
function outlineDensity(
  reference: RectangleReference,
  pick: CornerPick,
  context: DensityContext,
): Outcome<MeasuredDensity, CornerFailure> {
  const { widthM, heightM } = reference
  const known = context.known ?? null
  const flat = pick.flattened !== undefined
  const ordered = orderCorners(pick.corners, context.stillWidth, context.stillHeight)
  if (!ordered.ok) return ordered
  const { corners, order } = ordered.value
  const seen =
    (known === null ? null : readCorners(corners, reference, known, flat)) ??
    readCorners(corners, reference, null, flat)
  if (seen === null) {
    return failure(measureSays['no-rectangle']())
  }
  const { axes, slopes, byLens } = seen
  const covariance = pickCovariance(pick, order)
  const lens = known?.lens ?? context.lens ?? null
  const inStill = pick.flattened?.seen?.corners ?? corners
  const posed = lens === null ? null : referencePose(inStill, widthM, heightM, lens)
  const found = posed?.ok === true ? posed.value : null
  const bendRel =
    byLens !== null || flat ? 0 : rectangleBendRel(corners, reference, context, found, pick.method)
  const outward = outwardShift(corners)
  const axis = (which: 'horizontal' | 'vertical', toleranceM: number, sizeM: number): AxisBudget => {
    const densityPxPerM = axes[which]
    const slope = slopes[which]
    const bias = slope.reduce((sum, value, i) => sum + value * outward[i]!, 0)
    return {
      densityPxPerM,
      cornersRel: Math.sqrt(propagatedVariance(slope, covariance)) / densityPxPerM,
      sizeRel: toleranceRel(toleranceM, sizeM),
      bendRel,
      clickBiasRel: (commonBiasPx(pick.method) * bias) / densityPxPerM,
      ...(byLens === null ? {} : { lens: byLens[which] }),
    }
  }
  const horizontal = axis('horizontal', reference.widthToleranceM, widthM)
  const vertical = axis('vertical', reference.heightToleranceM, heightM)
  const facing = lens === null || found === null ? null : facingDensity(found, lens)
  return success({
    corners,
    density: axesDensity(horizontal, vertical, facing ?? greatestStretch(axes.jacobian)),
    budget: { horizontal, vertical, along: null },
    pose: found?.pose ?? null,
    problems: [
      ...[cornersBegin(reference, axes.horizontal, axes.vertical)].filter((problem) => problem !== null),
      ...heightProblems(horizontal, vertical, heightM, pick.method),
      ...(posed !== null && !posed.ok ? [{ code: posed.code, message: posed.message }] : []),
    ],
  })
}

/** Both axes with their slopes, through a known lens or as the corners lie; null where that shows no view of the rectangle. */
function readCorners(
  corners: Quad,
  { widthM, heightM }: RectangleReference,
  known: KnownLens | null,
  flat: boolean,
) {
  const lens = known?.lens ?? null
  const axes = rectangleAxes(corners, widthM, heightM, lens, flat)
  const slopes = axes === null ? null : cornerSlopes(corners, widthM, heightM, lens, flat)
  const byLens = known === null ? null : lensSlopes(corners, widthM, heightM, known, flat)
  if (axes === null || slopes === null || (known !== null && byLens === null)) return null
  return { axes, slopes, byLens }
}

/** The distance is the tape's where there is one, else what the lens makes of the corners; with neither, the frame sizes the bend. */
function rectangleBendRel(
  corners: Quad,
  reference: RectangleReference,
  context: DensityContext,
  pose: ReferencePose | null,
  method: Pick['method'],
): number {
  const distanceM = context.distanceM ?? pose?.distanceM ?? null
  const frameDiagonalPx = Math.hypot(context.stillWidth, context.stillHeight)
  const [a, b, c, d] = corners
  const diagonalPx = Math.max(Math.hypot(a[0] - c[0], a[1] - c[1]), Math.hypot(b[0] - d[0], b[1] - d[1]))
  const halfAngleRad =
    distanceM === null ? null : Math.hypot(reference.widthM, reference.heightM) / 2 / distanceM
  if (method === 'found') {
    const offX = (a[0] + b[0] + c[0] + d[0]) / 4 - context.stillWidth / 2
    const offY = (a[1] + b[1] + c[1] + d[1]) / 4 - context.stillHeight / 2
    const outward = (2 * Math.hypot(offX, offY)) / frameDiagonalPx
    return chartBendRel(halfAngleRad ?? diagonalPx / frameDiagonalPx, outward)
  }
  return halfAngleRad === null
    ? bendRelFromShare(diagonalPx / frameDiagonalPx)
    : bendRelFromAngle(halfAngleRad)
}
