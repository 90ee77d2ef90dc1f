import { fault } from '../../sentences.js'
import { simulateSays } from '../sentences.js'
import type { Point, Quad } from '../../math/point.js'
import { projectToImage, type CameraStation } from './cameraStation.js'
import { along, type WorldVector } from './worldVector.js'

/** Half the step of the central difference, metres: its error is below 1e-8 of the density at any distance over 0.1 m. */
const HALF_STEP_M = 1e-5

/** What is exactly true of a rectangle in the scene. Points in px; densities px/m at its centre along its own axes. */
export interface TargetTruth {
  /** Clockwise from its own top left. */
  readonly corners: Quad
  readonly centre: Point
  readonly horizontalPxPerM: number
  readonly verticalPxPerM: number
  readonly distanceM: number
}

/**
 * The exact corners and local density of a rectangle `widthM` x `heightM` of the given pose, through the lens itself and
 * not through a homography.
 * @throws `ProofwalkError` `out-of-view` where a corner has no image
 */
export function targetTruth(
  station: CameraStation,
  pose: { readonly centre: WorldVector; readonly right: WorldVector; readonly down: WorldVector },
  widthM: number,
  heightM: number,
): TargetTruth {
  const at = (uM: number, vM: number): Point => {
    const point = projectToImage(station, along(along(pose.centre, pose.right, uM), pose.down, vM))
    if (point === null) throw fault(simulateSays['out-of-view']())
    return point
  }
  const slope = (a: Point, b: Point): number => Math.hypot(b[0] - a[0], b[1] - a[1]) / (2 * HALF_STEP_M)
  const w = widthM / 2
  const h = heightM / 2
  return {
    corners: [at(-w, -h), at(w, -h), at(w, h), at(-w, h)],
    centre: at(0, 0),
    horizontalPxPerM: slope(at(-HALF_STEP_M, 0), at(HALF_STEP_M, 0)),
    verticalPxPerM: slope(at(0, -HALF_STEP_M), at(0, HALF_STEP_M)),
    distanceM: Math.hypot(pose.centre[0], pose.centre[1], pose.centre[2] - station.mountHeightM),
  }
}
