import { imageSlopes } from '../../lens/imageSlopes.js'
import type { Ray } from '../../lens/projection.js'
import type { Point } from '../../math/point.js'
import { pulled } from './cornerWhitening.js'
import { cornersFrom, lensAt, planeOf, STAND_UNKNOWNS, type LensBlock, type Stand } from './lensBlock.js'
import { composeTurns, rayDot, turnBy } from '../pose/turn.js'

/**
 * What the residuals' own bending adds to the normal matrix of a stand (5 x 5): near square a turn shows in its square, which first derivatives do not
 * tell, and without this the descent creeps. The half of a turn's vector product with itself: d2X/dadb = (a X_b + b X_a)/2 - X where a = b.
 */
export function turnCurvature(
  block: LensBlock,
  stand: Stand,
  unknowns: Float64Array,
  middle: Point,
  residuals: Float64Array,
): Float64Array {
  const lens = lensAt(block, unknowns, middle)
  const axes = composeTurns(stand.frame, stand.turn)
  const out = new Float64Array(STAND_UNKNOWNS ** 2)
  const at = planeOf(block, unknowns)
  for (const [i, seen] of cornersFrom(block, stand, unknowns).entries()) {
    const [slopeX, slopeY] = imageSlopes(lens, turnBy(stand.frame, seen))
    const [x, y] = at[i]!
    const bent: readonly (readonly [number, number, Ray])[] = [
      [0, 0, [0, -y, 0]],
      [1, 1, [-x, 0, 0]],
      [2, 2, [-x, -y, 0]],
      [0, 1, [y / 2, x / 2, 0]],
      [0, 2, [0, 0, x / 2]],
      [1, 2, [0, 0, y / 2]],
    ]
    const [pullX, pullY] = [
      pulled(block.whitening, residuals, 2 * i),
      pulled(block.whitening, residuals, 2 * i + 1),
    ]
    for (const [a, b, move] of bent) {
      const moved = turnBy(axes, move)
      const value = pullX * rayDot(slopeX, moved) + pullY * rayDot(slopeY, moved)
      out[a * STAND_UNKNOWNS + b]! += value
      if (a !== b) out[b * STAND_UNKNOWNS + a]! += value
    }
  }
  return out
}
