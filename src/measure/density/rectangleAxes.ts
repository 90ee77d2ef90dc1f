import type { CameraLens } from '../../lens/cameraLens.js'
import { lensDraws, movedLens, type KnownLens } from '../../lens/knownLens.js'
import { pointToRay } from '../../lens/projection.js'
import { fitHomography } from '../../math/fitHomography.js'
import { jacobianAt, mapPoint, type PlaneJacobian } from '../../math/homography.js'
import type { Point, Quad } from '../../math/point.js'
import { centreJacobian, rectangleCorners } from '../pose/cornerDensity.js'
import { jacobianThroughLens, lensGain, type LensJacobian } from './lensJacobian.js'
import type { AxisLens } from '../stillMeasurement.js'

/** Half the step of the central differences, px: far under any noise, far over rounding. */
const HALF_STEP_PX = 1e-3
/** The same for q and for the logarithm of the pixels per radian. */
const HALF_STEP_LENS = 1e-5

/** What the corners say at a rectangle's centre, as they are or through a lens. */
export interface RectangleAxes {
  readonly jacobian: PlaneJacobian
  /** px/m along the rectangle's own axes, and the lens' gain there (1 without one). */
  readonly horizontal: number
  readonly vertical: number
  readonly horizontalGain: number
  readonly verticalGain: number
}

/**
 * Reads corners (px, clockwise from the rectangle's own top left) at its centre, through `lens` where one is given. `flat` says that the corners are those of the
 * plane that touches the rectangle's image there: the lens then tells its gain alone. Null where they are no view of it.
 */
export function rectangleAxes(
  corners: readonly Point[],
  widthM: number,
  heightM: number,
  lens: CameraLens | null,
  flat = false,
): RectangleAxes | null {
  if (lens === null) {
    const jacobian = centreJacobian(corners, widthM, heightM)
    return jacobian === null ? null : axesOf(jacobian, 1, 1)
  }
  const seen = flat
    ? flatJacobian(corners, widthM, heightM, lens)
    : jacobianThroughLens(corners, widthM, heightM, lens)
  if (seen === null) return null
  const horizontalGain = lensGain(lens, seen.centreRay, seen.jacobian.alongX)
  const verticalGain = lensGain(lens, seen.centreRay, seen.jacobian.alongY)
  if (horizontalGain === null || verticalGain === null) return null
  return axesOf(seen.jacobian, horizontalGain, verticalGain)
}

function flatJacobian(
  corners: readonly Point[],
  widthM: number,
  heightM: number,
  lens: CameraLens,
): LensJacobian | null {
  const fit = fitHomography(rectangleCorners(widthM, heightM), corners)
  if (!fit.ok) return null
  const centreRay = pointToRay(lens, mapPoint(fit.value.homography, 0, 0))
  return centreRay === null ? null : { jacobian: jacobianAt(fit.value.homography, 0, 0), centreRay }
}

function axesOf(jacobian: PlaneJacobian, horizontalGain: number, verticalGain: number): RectangleAxes {
  const { alongX, alongY } = jacobian
  const [horizontal, vertical] = [Math.hypot(alongX[0], alongX[1]), Math.hypot(alongY[0], alongY[1])]
  return { jacobian, horizontal, vertical, horizontalGain, verticalGain }
}

/** Gradients of both densities against x1, y1, ... y4; null where a neighbouring set is no view of a rectangle. */
export function cornerSlopes(
  corners: Quad,
  widthM: number,
  heightM: number,
  lens: CameraLens | null,
  flat = false,
): { readonly horizontal: number[]; readonly vertical: number[] } | null {
  const horizontal: number[] = []
  const vertical: number[] = []
  for (let i = 0; i < 8; i++) {
    const moved = (by: number) =>
      rectangleAxes(
        corners.map(([x, y], j): Point => [2 * j === i ? x + by : x, 2 * j + 1 === i ? y + by : y]),
        widthM,
        heightM,
        lens,
        flat,
      )
    const above = moved(HALF_STEP_PX)
    const below = moved(-HALF_STEP_PX)
    if (above === null || below === null) return null
    horizontal.push((above.horizontal - below.horizontal) / (2 * HALF_STEP_PX))
    vertical.push((above.vertical - below.vertical) / (2 * HALF_STEP_PX))
  }
  return { horizontal, vertical }
}

/** How density and gain of both axes follow what is unknown of a lens; null where a neighbouring lens has no image of the corners. */
export function lensSlopes(
  corners: Quad,
  widthM: number,
  heightM: number,
  known: KnownLens,
  flat = false,
): { readonly horizontal: AxisLens; readonly vertical: AxisLens } | null {
  const { lens } = known
  const through = (q: number, logF: number) =>
    rectangleAxes(corners, widthM, heightM, movedLens(lens, q, logF), flat)
  const here = through(0, 0)
  const ends = [
    [through(HALF_STEP_LENS, 0), through(-HALF_STEP_LENS, 0)],
    [through(0, HALF_STEP_LENS), through(0, -HALF_STEP_LENS)],
  ] as const
  if (here === null || ends.some((pair) => pair.includes(null))) return null
  const perUnit = (of: (axes: RectangleAxes) => number, which: 0 | 1): number =>
    Math.log(of(ends[which][0]!) / of(ends[which][1]!)) / (2 * HALF_STEP_LENS)
  const loads = (of: (axes: RectangleAxes) => number): readonly [number, number] => {
    const [perQ, perLogF] = [perUnit(of, 0), perUnit(of, 1)]
    const [first, second] = lensDraws(known).map((draw) => perQ * draw.q + perLogF * draw.logF)
    return [first!, second!]
  }
  return {
    horizontal: {
      loadsRel: loads((axes) => axes.horizontal),
      gain: here.horizontalGain,
      gainLoadsRel: loads((axes) => axes.horizontalGain),
    },
    vertical: {
      loadsRel: loads((axes) => axes.vertical),
      gain: here.verticalGain,
      gainLoadsRel: loads((axes) => axes.verticalGain),
    },
  }
}
