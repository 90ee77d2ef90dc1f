import type { CameraLens } from '../../lens/cameraLens.js'
import { imageSlopes } from '../../lens/imageSlopes.js'
import { rayToPoint, type Ray } from '../../lens/projection.js'
import { dampedDescent, lazyLook } from '../../math/dampedDescent.js'
import { normalEquations } from '../../math/normalEquations.js'
import type { Quad } from '../../math/point.js'
import { composeTurns, turnAbout, turnBy, type Turn } from './turn.js'

/** A pose in the frame of a ray: unit axes of the reference as columns, and its centre in metres. */
export interface FramedPose {
  readonly turn: Turn
  readonly centre: Ray
}

const UNKNOWNS = [0, 1, 2, 3, 4, 5]
const MOST_STEPS = 40
/** A step is settled where it turns by less than this, radians, and moves the centre by less than this share of its depth. */
const SETTLED = 1e-9

/**
 * The pose moved to where its corners' images lie nearest to `corners` (px), by the damped descent with exact derivatives, the turn counted anew from each
 * pose. `residualSum` in px squared; infinite where the lens has no image of the start.
 */
export function refinePose(
  start: FramedPose,
  frame: Turn,
  plane: Quad,
  corners: Quad,
  lens: CameraLens,
): FramedPose & { readonly residualSum: number } {
  const { state, seen } = dampedDescent({
    start,
    mostSteps: MOST_STEPS,
    look: (pose) => {
      const residuals = new Float64Array(8)
      const sum = residualSum(pose, frame, plane, corners, lens, residuals)
      return lazyLook(sum, () => {
        const jacobian = new Float64Array(48)
        writeJacobian(pose, frame, plane, lens, jacobian)
        return normalEquations(jacobian, residuals, UNKNOWNS, UNKNOWNS.length)
      })
    },
    moved: ({ turn, centre: [x, y, z] }, step): FramedPose => ({
      turn: composeTurns(turn, turnAbout(step[0]!, step[1]!, step[2]!)),
      centre: [x + step[3]!, y + step[4]!, z * Math.exp(Math.max(-1, Math.min(1, step[5]!)))],
    }),
    isSettled: ({ step, from: { centre } }) =>
      step.every((by, a) => Math.abs(by) <= SETTLED * (a === 3 || a === 4 ? centre[2] : 1)),
  })
  return { ...state, residualSum: seen.sum }
}

/** Where a corner of the reference lies from the camera, metres. */
function seenFrom({ turn, centre }: FramedPose, frame: Turn, x: number, y: number): Ray {
  return turnBy(frame, [
    centre[0] + turn[0] * x + turn[1] * y,
    centre[1] + turn[3] * x + turn[4] * y,
    centre[2] + turn[6] * x + turn[7] * y,
  ])
}

/** The squared distances' sum, px squared; the distances go to `out` where the lens has all images, else the sum is infinite. */
function residualSum(
  pose: FramedPose,
  frame: Turn,
  plane: Quad,
  corners: Quad,
  lens: CameraLens,
  out: Float64Array,
): number {
  const images = plane.map(([x, y]) => rayToPoint(lens, seenFrom(pose, frame, x, y)))
  let sum = 0
  for (const [i, image] of images.entries()) {
    if (image === null) return Infinity
    out[2 * i] = image[0] - corners[i]![0]
    out[2 * i + 1] = image[1] - corners[i]![1]
    sum += out[2 * i]! ** 2 + out[2 * i + 1]! ** 2
  }
  return sum
}

/** Derivatives of the corners' images by a turn about the reference's own axes (radians), the centre's x and y (metres) and its z's logarithm; 8 x 6, row by row. */
function writeJacobian(
  pose: FramedPose,
  frame: Turn,
  plane: Quad,
  lens: CameraLens,
  out: Float64Array,
): void {
  const axes = composeTurns(frame, pose.turn)
  for (let i = 0; i < 4; i += 1) {
    const [x, y] = plane[i]!
    const [byX, byY] = imageSlopes(lens, seenFrom(pose, frame, x, y))
    for (let a = 0; a < 6; a += 1) {
      // A small turn about an own axis moves (x, y, 0) by the vector product of the axis with it.
      const moved =
        a === 0
          ? turnBy(axes, [0, 0, y])
          : a === 1
            ? turnBy(axes, [0, 0, -x])
            : a === 2
              ? turnBy(axes, [-y, x, 0])
              : turnBy(frame, [a === 3 ? 1 : 0, a === 4 ? 1 : 0, a === 5 ? pose.centre[2] : 0])
      out[12 * i + a] = byX[0] * moved[0] + byX[1] * moved[1] + byX[2] * moved[2]
      out[12 * i + 6 + a] = byY[0] * moved[0] + byY[1] * moved[1] + byY[2] * moved[2]
    }
  }
}
