import { failure, success, type Outcome } from '../math/outcome.js'
import type { Point, Quad } from '../math/point.js'
import { CLICK_BIAS_PX, expandedU, toleranceRel } from './axisBudget.js'
import { bendRelFromAngle, bendRelFromShare } from './bend.js'
import { centreJacobian, cornerDensity } from './cornerDensity.js'
import { cornersBegin } from './cornersBegin.js'
import { orderCorners, type CornerFailure } from './cornerSet.js'
import type { DensityContext } from './densityContext.js'
import { heightProblems } from './heightDecides.js'
import type { MeasuredDensity } from './density.js'
import { greatestStretch } from './greatestStretch.js'
import type { Pick } from './pick.js'
import { pickCovariance, propagatedVariance } from './pickCovariance.js'
import { facingDensity, referencePose, type ReferencePose } from './pose.js'
import type { RectangleReference } from './reference.js'
import type { AxisBudget } from './stillMeasurement.js'

/** Half the step of the central differences, px: far under any noise, far over rounding. */
const HALF_STEP_PX = 1e-3

export type CornerPick = Extract<Pick, { kind: 'corners' }>

/** The density of a rectangle from its four corners, as `measureDensity` describes it. */
export function rectangleDensity(
  reference: RectangleReference,
  pick: CornerPick,
  context: DensityContext,
): Outcome<MeasuredDensity, CornerFailure> {
  const { widthM, heightM } = reference
  const ordered = orderCorners(pick.corners, context.stillWidth, context.stillHeight)
  if (!ordered.ok) return ordered
  const { corners, order } = ordered.value
  const jacobian = centreJacobian(corners, widthM, heightM)
  const slopes = jacobian === null ? null : cornerSlopes(corners, widthM, heightM)
  if (jacobian === null || slopes === null) {
    return failure('corners-not-convex', 'the four corners are no view of a flat rectangle')
  }
  const covariance = pickCovariance(pick, order)
  const lens = context.lens ?? null
  const posed = lens === null ? null : referencePose(corners, widthM, heightM, lens)
  const found = posed?.ok === true ? posed.value : null
  const bendRel = rectangleBendRel(corners, reference, context, found)
  const outward = outwardShift(corners)
  const axis = (along: Point, slope: readonly number[], toleranceM: number, sizeM: number): AxisBudget => {
    const densityPxPerM = Math.hypot(...along)
    const bias = slope.reduce((sum, value, i) => sum + value * outward[i]!, 0)
    return {
      densityPxPerM,
      cornersRel: Math.sqrt(propagatedVariance(slope, covariance)) / densityPxPerM,
      sizeRel: toleranceRel(toleranceM, sizeM),
      bendRel,
      clickBiasRel: pick.method === 'hand' ? (CLICK_BIAS_PX * bias) / densityPxPerM : 0,
    }
  }
  const horizontal = axis(jacobian.alongX, slopes.horizontal, reference.widthToleranceM, widthM)
  const vertical = axis(jacobian.alongY, slopes.vertical, reference.heightToleranceM, heightM)
  const [h, v] = [horizontal.densityPxPerM, vertical.densityPxPerM]
  const [hU, vU] = [expandedU(horizontal), expandedU(vertical)]
  const facing = lens === null || found === null ? null : facingDensity(found, lens)
  return success({
    corners,
    density: {
      horizontal: h,
      horizontalU: hU,
      vertical: v,
      verticalU: vU,
      onTarget: Math.min(h, v),
      low: Math.max(0, Math.min(h - hU, v - vU)),
      high: Math.min(h + hU, v + vU),
      facing: facing ?? greatestStretch(jacobian),
    },
    budget: { horizontal, vertical, along: null },
    pose: found?.pose ?? null,
    problems: [
      ...[cornersBegin(reference, h, v)].filter((problem) => problem !== null),
      ...heightProblems(horizontal, vertical, heightM, pick.method),
      ...(posed !== null && !posed.ok ? [{ code: posed.code, message: posed.message }] : []),
    ],
  })
}

/** Gradients of both densities against x1, y1, ... y4; null where a neighbouring set is no view of a rectangle. */
function cornerSlopes(
  corners: Quad,
  widthM: number,
  heightM: number,
): { horizontal: number[]; vertical: number[] } | null {
  const horizontal: number[] = []
  const vertical: number[] = []
  for (let i = 0; i < 8; i++) {
    const moved = (by: number) =>
      cornerDensity(
        corners.map(([x, y], j): Point => [2 * j === i ? x + by : x, 2 * j + 1 === i ? y + by : y]),
        widthM,
        heightM,
      )
    const above = moved(HALF_STEP_PX)
    const below = moved(-HALF_STEP_PX)
    if (above === null || below === null) return null
    horizontal.push((above.horizontal - below.horizontal) / (2 * HALF_STEP_PX))
    vertical.push((above.vertical - below.vertical) / (2 * HALF_STEP_PX))
  }
  return { horizontal, vertical }
}

/** How x1, y1, ... y4 move where every side grows by one px at each of its ends. */
function outwardShift(corners: Quad): number[] {
  return corners.flatMap((corner, i) => {
    const shift = [0, 0]
    for (const neighbour of [corners[(i + 1) % 4]!, corners[(i + 3) % 4]!]) {
      const length = Math.hypot(corner[0] - neighbour[0], corner[1] - neighbour[1])
      shift[0]! += (corner[0] - neighbour[0]) / length
      shift[1]! += (corner[1] - neighbour[1]) / length
    }
    return shift
  })
}

/** The distance is the tape's where there is one, else what the lens makes of the corners; with neither, the frame sizes the bend. */
function rectangleBendRel(
  corners: Quad,
  reference: RectangleReference,
  context: DensityContext,
  pose: ReferencePose | null,
): number {
  const distanceM = context.distanceM ?? pose?.distanceM ?? null
  if (distanceM !== null) {
    return bendRelFromAngle(Math.hypot(reference.widthM, reference.heightM) / 2 / distanceM)
  }
  const [a, b, c, d] = corners
  const diagonalPx = Math.max(Math.hypot(a[0] - c[0], a[1] - c[1]), Math.hypot(b[0] - d[0], b[1] - d[1]))
  return bendRelFromShare(diagonalPx / Math.hypot(context.stillWidth, context.stillHeight))
}
