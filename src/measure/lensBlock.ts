import type { CameraLens } from '../lens/cameraLens.js'
import { pOfCubic } from '../lens/cubicBend.js'
import { imageSlopes } from '../lens/imageSlopes.js'
import { movedLens } from '../lens/knownLens.js'
import { rayToPoint, type Ray } from '../lens/projection.js'
import type { Point } from '../math/point.js'
import { rectangleCorners } from './cornerDensity.js'
import type { LensStill } from './lensStill.js'
import { CENTRE_X_AT, CENTRE_Y_AT, Q_AT, Q_MIDDLE, type StillUnknowns } from './lensUnknowns.js'
import { outwardShift } from './outwardShift.js'
import { turnBy, composeTurns, rayDot, type Turn } from './turn.js'

/** Where a reference stands: its centre's direction in a fixed frame as (u, v, 1), and its turn there. Its distance is the tape's. */
export interface Stand {
  readonly frame: Turn
  readonly turn: Turn
  readonly u: number
  readonly v: number
}

/** Corners, and two of the turn. */
export const STILL_RESIDUALS = 10
/** Three of the turn, two of the direction. */
export const STAND_UNKNOWNS = 5

/**
 * A walker holds a reference square to the camera within about this, radians, one standard deviation about the upright and about the level: this
 * project's convention. Where a reference is too small for its corners to tell its turn, this keeps it from explaining any lens.
 */
const HELD_SIGMA_RAD = (15 * Math.PI) / 180
/** Half the step of the central difference in the bend q. */
const HALF_STEP_Q = 1e-5

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
  const whitening = whiteningOf(still.covariancePx2)
  return whitening === null ? null : { still, places, whitening, outward: outwardShift(still.corners) }
}

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
    const [x, y] = plane(block, unknowns)[i]!
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
  const at = plane(block, unknowns)
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

/** One entry of the transposed whitening times the whitened residuals. */
function pulled(whitening: Float64Array, residuals: Float64Array, j: number): number {
  let sum = 0
  for (let i = j; i < 8; i += 1) sum += whitening[8 * i + j]! * residuals[i]!
  return sum
}

export const UNKNOWN_COLUMNS = 9

/** The unknowns in the order of `writeSlopes`' columns; a still no hand clicked has no last one. */
export function columnsOf({ places }: LensBlock): readonly number[] {
  const { logF, offset, logWidth, logHeight, tape, bias } = places
  const all = [Q_AT, CENTRE_X_AT, CENTRE_Y_AT, logF, offset, logWidth, logHeight, tape]
  return bias === null ? all : [...all, bias]
}

function distanceOf({ still, places }: LensBlock, unknowns: Float64Array): number {
  return still.distanceM + unknowns[places.offset]! + unknowns[places.tape]!
}

function plane({ still, places }: LensBlock, unknowns: Float64Array) {
  return rectangleCorners(
    still.widthM * Math.exp(unknowns[places.logWidth]!),
    still.heightM * Math.exp(unknowns[places.logHeight]!),
  )
}

/** The corners from the camera, in the stand's frame, metres. */
function cornersFrom(block: LensBlock, { turn, u, v }: Stand, unknowns: Float64Array): readonly Ray[] {
  const share = distanceOf(block, unknowns) / Math.hypot(u, v, 1)
  return plane(block, unknowns).map(([x, y]): Ray => [
    share * u + turn[0] * x + turn[1] * y,
    share * v + turn[3] * x + turn[4] * y,
    share + turn[6] * x + turn[7] * y,
  ])
}

function scaled([x, y, z]: Ray, by: number): Ray {
  return [x * by, y * by, z * by]
}

/** One column (of `stride`) of eight rows, times the whitening. */
function whiten(
  whitening: Float64Array,
  from: Float64Array,
  to: Float64Array,
  column: number,
  stride: number,
): void {
  for (let i = 0; i < 8; i += 1) {
    let sum = 0
    for (let j = 0; j <= i; j += 1) sum += whitening[8 * i + j]! * from[j * stride + column]!
    to[i * stride + column] = sum
  }
}

/** The inverse of the lower Cholesky factor, row by row; null where the covariance is not positive definite. */
function whiteningOf(covariance: readonly (readonly number[])[]): Float64Array | null {
  const factor = new Float64Array(64)
  const inverse = new Float64Array(64)
  for (let i = 0; i < 8; i += 1) {
    for (let j = 0; j <= i; j += 1) {
      let sum = covariance[i]![j]!
      for (let k = 0; k < j; k += 1) sum -= factor[8 * i + k]! * factor[8 * j + k]!
      if (i !== j) factor[8 * i + j] = sum / factor[9 * j]!
      else if (sum > 1e-12 * covariance[i]![i]!) factor[9 * i] = Math.sqrt(sum)
      else return null
    }
    for (let j = 0; j <= i; j += 1) {
      let sum = i === j ? 1 : 0
      for (let k = j; k < i; k += 1) sum -= factor[8 * i + k]! * inverse[8 * k + j]!
      inverse[8 * i + j] = sum / factor[9 * i]!
    }
  }
  return inverse
}
