import type { CameraLens } from '../../lens/cameraLens.js'
import { pOfCubic } from '../../lens/cubicBend.js'
import type { Ray } from '../../lens/projection.js'
import type { Point } from '../../math/point.js'
import { cornerWhitening } from './cornerWhitening.js'
import { rectangleCorners } from '../pose/cornerDensity.js'
import type { LensStill } from './lensStill.js'
import { CENTRE_X_AT, CENTRE_Y_AT, Q_AT, Q_MIDDLE, type StillUnknowns } from './lensUnknowns.js'
import { outwardShift } from '../density/axisBudget.js'
import type { Turn } from '../pose/turn.js'

/** Where a reference stands: its centre's direction in a fixed frame as (u, v, 1), and its turn there. Its distance is the tape's. */
export interface Stand {
  readonly frame: Turn
  readonly turn: Turn
  readonly u: number
  readonly v: number
}

/** Three of the turn, two of the direction. */
export const STAND_UNKNOWNS = 5

/** A still made ready: its corners' noise undone by `whitening`, 8 x 8. */
export interface LensBlock {
  readonly still: LensStill
  readonly places: StillUnknowns
  readonly whitening: Float64Array
  readonly outward: readonly number[]
}

/** The lens at the unknowns' present values, for one still. */
export function lensAt(block: Pick<LensBlock, 'places'>, unknowns: Float64Array, middle: Point): CameraLens {
  return {
    p: pOfCubic(Q_MIDDLE + unknowns[Q_AT]!),
    pixelsPerRadian: Math.exp(unknowns[block.places.logF]!),
    centreX: middle[0] + unknowns[CENTRE_X_AT]!,
    centreY: middle[1] + unknowns[CENTRE_Y_AT]!,
  }
}

/** The still made ready; null where its covariance is none that can be undone. */
export function lensBlock(still: LensStill, places: StillUnknowns): LensBlock | null {
  const whitening = cornerWhitening(still.covariancePx2)
  return whitening === null ? null : { still, places, whitening, outward: outwardShift(still.corners) }
}

/** Line of sight to the reference at the unknowns' present values, metres. */
export function distanceOf({ still, places }: LensBlock, unknowns: Float64Array): number {
  return still.distanceM + unknowns[places.offset]! + unknowns[places.tape]!
}

/** The reference's corners in its own plane, metres from its centre. */
export function planeOf({ still, places }: LensBlock, unknowns: Float64Array) {
  return rectangleCorners(
    still.widthM * Math.exp(unknowns[places.logWidth]!),
    still.heightM * Math.exp(unknowns[places.logHeight]!),
  )
}

/** The corners from the camera, in the stand's frame, metres. */
export function cornersFrom(block: LensBlock, { turn, u, v }: Stand, unknowns: Float64Array): readonly Ray[] {
  const share = distanceOf(block, unknowns) / Math.hypot(u, v, 1)
  return planeOf(block, unknowns).map(([x, y]): Ray => [
    share * u + turn[0] * x + turn[1] * y,
    share * v + turn[3] * x + turn[4] * y,
    share + turn[6] * x + turn[7] * y,
  ])
}
