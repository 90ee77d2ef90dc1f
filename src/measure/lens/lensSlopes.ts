import { imageSlopes } from '../../lens/imageSlopes.js'
import { movedLens } from '../../lens/knownLens.js'
import { rayToPoint, type Ray } from '../../lens/projection.js'
import type { Point } from '../../math/point.js'
import { whiten } from './cornerWhitening.js'
import {
  cornersFrom,
  distanceOf,
  lensAt,
  planeOf,
  STAND_UNKNOWNS,
  type LensBlock,
  type Stand,
} from './lensBlock.js'
import { HELD_SIGMA_RAD } from './lensResiduals.js'
import { CENTRE_X_AT, CENTRE_Y_AT, Q_AT } from './lensUnknowns.js'
import { composeTurns, rayDot, turnBy } from '../pose/turn.js'

/** Half the step of the central difference in the bend q. */
const HALF_STEP_Q = 1e-5

export const UNKNOWN_COLUMNS = 9

/** The unknowns in the order of `writeSlopes`' columns; a still no hand clicked has no last one. */
export function columnsOf({ places }: LensBlock): readonly number[] {
  const { logF, offset, logWidth, logHeight, tape, bias } = places
  const all = [Q_AT, CENTRE_X_AT, CENTRE_Y_AT, logF, offset, logWidth, logHeight, tape]
  return bias === null ? all : [...all, bias]
}

/**
 * Writes the derivatives of the residuals: `byStand` 10 x 5 (turn about the reference's own axes, u, v), `byUnknown` 10 columns for the unknowns of
 * `columnsOf`, all row by row. All exact but that of q, a central difference.
 */
export function writeSlopes(
  block: LensBlock,
  stand: Stand,
  unknowns: Float64Array,
  middle: Point,
  byStand: Float64Array,
  byUnknown: Float64Array,
): void {
  const lens = lensAt(block, unknowns, middle)
  const width = UNKNOWN_COLUMNS
  const { frame, turn, u, v } = stand
  const axes = composeTurns(frame, turn)
  const distanceM = distanceOf(block, unknowns)
  const n = Math.hypot(u, v, 1)
  const away: Ray = [u / n, v / n, 1 / n]
  const byU = turnBy(frame, scaled([1 - away[0] ** 2, -away[0] * away[1], -away[0] * away[2]], distanceM / n))
  const byV = turnBy(frame, scaled([-away[0] * away[1], 1 - away[1] ** 2, -away[1] * away[2]], distanceM / n))
  const byDistance = turnBy(frame, away)
  const stands = new Float64Array(8 * STAND_UNKNOWNS)
  const columns = new Float64Array(8 * width)
  for (const [i, seen] of cornersFrom(block, stand, unknowns).entries()) {
    const ray = turnBy(frame, seen)
    const [slopeX, slopeY] = imageSlopes(lens, ray)
    const image = rayToPoint(lens, ray) ?? [0, 0]
    const [x, y] = planeOf(block, unknowns)[i]!
    const moves: readonly Ray[] = [
      turnBy(axes, [0, 0, y]),
      turnBy(axes, [0, 0, -x]),
      turnBy(axes, [-y, x, 0]),
      byU,
      byV,
    ]
    for (const [a, moved] of moves.entries()) {
      stands[2 * i * STAND_UNKNOWNS + a] = rayDot(slopeX, moved)
      stands[(2 * i + 1) * STAND_UNKNOWNS + a] = rayDot(slopeY, moved)
    }
    const wider = rayToPoint(movedLens(lens, HALF_STEP_Q, 0), ray) ?? image
    const narrower = rayToPoint(movedLens(lens, -HALF_STEP_Q, 0), ray) ?? image
    const byWidth = turnBy(axes, [x, 0, 0])
    const byHeight = turnBy(axes, [0, y, 0])
    const along = [
      [wider[0] - narrower[0], wider[1] - narrower[1]].map((each) => each / (2 * HALF_STEP_Q)),
      [1, 0],
      [0, 1],
      [image[0] - lens.centreX, image[1] - lens.centreY],
      [rayDot(slopeX, byDistance), rayDot(slopeY, byDistance)],
      [rayDot(slopeX, byWidth), rayDot(slopeY, byWidth)],
      [rayDot(slopeX, byHeight), rayDot(slopeY, byHeight)],
      [rayDot(slopeX, byDistance), rayDot(slopeY, byDistance)],
      [block.outward[2 * i]!, block.outward[2 * i + 1]!],
    ]
    for (const [column, [dx, dy]] of along.entries()) {
      columns[2 * i * width + column] = dx!
      columns[(2 * i + 1) * width + column] = dy!
    }
  }
  byStand.fill(0)
  byUnknown.fill(0)
  for (let a = 0; a < STAND_UNKNOWNS; a += 1) whiten(block.whitening, stands, byStand, a, STAND_UNKNOWNS)
  for (let c = 0; c < width; c += 1) whiten(block.whitening, columns, byUnknown, c, width)
  // A turn about the own x takes the normal towards minus own y, one about the own y towards own x.
  byStand[8 * STAND_UNKNOWNS] = -turn[1] / HELD_SIGMA_RAD
  byStand[8 * STAND_UNKNOWNS + 1] = turn[0] / HELD_SIGMA_RAD
  byStand[9 * STAND_UNKNOWNS] = -turn[4] / HELD_SIGMA_RAD
  byStand[9 * STAND_UNKNOWNS + 1] = turn[3] / HELD_SIGMA_RAD
}

function scaled([x, y, z]: Ray, by: number): Ray {
  return [x * by, y * by, z * by]
}
