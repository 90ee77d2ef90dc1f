import { rayToPoint } from '../../lens/projection.js'
import type { Point } from '../../math/point.js'
import { whiten } from './cornerWhitening.js'
import { cornersFrom, lensAt, type LensBlock, type Stand } from './lensBlock.js'
import { turnBy } from '../pose/turn.js'

/** Corners, and two of the turn. */
export const STILL_RESIDUALS = 10
/**
 * A walker holds a reference square to the camera within about this, radians, one standard deviation about the upright and about the level: this
 * project's convention. Where a reference is too small for its corners to tell its turn, this keeps it from explaining any lens.
 */
export const HELD_SIGMA_RAD = (15 * Math.PI) / 180
/** Writes the still's residuals (corners whitened, then the turn against its convention). False where the lens has no image of a corner. */
export function writeResiduals(
  block: LensBlock,
  stand: Stand,
  unknowns: Float64Array,
  middle: Point,
  out: Float64Array,
): boolean {
  const { still, places } = block
  const lens = lensAt(block, unknowns, middle)
  const bias = places.bias === null ? 0 : unknowns[places.bias]!
  const off = new Float64Array(8)
  for (const [i, seen] of cornersFrom(block, stand, unknowns).entries()) {
    const image = rayToPoint(lens, turnBy(stand.frame, seen))
    if (image === null) return false
    off[2 * i] = image[0] + bias * block.outward[2 * i]! - still.corners[i]![0]
    off[2 * i + 1] = image[1] + bias * block.outward[2 * i + 1]! - still.corners[i]![1]
  }
  whiten(block.whitening, off, out, 0, 1)
  out[8] = stand.turn[2] / HELD_SIGMA_RAD
  out[9] = stand.turn[5] / HELD_SIGMA_RAD
  return true
}
