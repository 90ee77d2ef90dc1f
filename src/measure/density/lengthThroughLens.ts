import type { CameraLens } from '../../lens/cameraLens.js'
import { imageSlopes } from '../../lens/imageSlopes.js'
import { lensDraws, movedLens, type KnownLens } from '../../lens/knownLens.js'
import { pointToRay, type Ray } from '../../lens/projection.js'
import type { Ends, Point } from '../../math/point.js'
import { lensGain } from './lensJacobian.js'
import { meanRay } from '../pose/rayPlane.js'
import type { AxisLens } from '../stillMeasurement.js'
import { inverseTurn, rayDot, rayFrame, turnBy } from '../pose/turn.js'

/** Half the step of the central differences in q and in the logarithm of the pixels per radian. */
const HALF_STEP = 1e-5

/** What a lens makes of a length between two ends. */
export interface LengthThroughLens {
  /** The density at its middle over the mean density between the ends. */
  readonly stretch: number
  readonly axis: AxisLens
}

/**
 * A length's ends (px) through a known lens. It is taken to lie square to the ray through its middle, as nothing tells how it is turned. Null
 * where the lens has no image of an end.
 */
export function lengthThroughLens(ends: Ends, known: KnownLens): LengthThroughLens | null {
  const { lens } = known
  const through = (q: number, logF: number) => atMiddle(ends, movedLens(lens, q, logF))
  const here = through(0, 0)
  const byQ = [through(HALF_STEP, 0), through(-HALF_STEP, 0)] as const
  const byLogF = [through(0, HALF_STEP), through(0, -HALF_STEP)] as const
  if (here === null || [...byQ, ...byLogF].includes(null)) return null
  const loads = (of: 'stretch' | 'gain'): readonly [number, number] => {
    const perQ = Math.log(byQ[0]![of] / byQ[1]![of]) / (2 * HALF_STEP)
    const perLogF = Math.log(byLogF[0]![of] / byLogF[1]![of]) / (2 * HALF_STEP)
    const [first, second] = lensDraws(known).map((draw) => perQ * draw.q + perLogF * draw.logF)
    return [first!, second!]
  }
  return {
    stretch: here.stretch,
    axis: { loadsRel: loads('stretch'), gain: here.gain, gainLoadsRel: loads('gain') },
  }
}

function atMiddle(ends: Ends, lens: CameraLens): { stretch: number; gain: number } | null {
  const rays = ends.map((end) => pointToRay(lens, end))
  if (!rays.every((ray) => ray !== null)) return null
  const middle = meanRay(rays)
  const frame = rayFrame(middle)
  if (frame === null) return null
  const [first, second] = rays.map((ray): Point => {
    const [x, y, z] = turnBy(inverseTurn(frame), ray)
    return [x / z, y / z]
  })
  const across = turnBy(frame, [second![0] - first![0], second![1] - first![1], 0])
  const unit: Ray = turnBy(frame, [0, 0, 1])
  const [byX, byY] = imageSlopes(lens, unit)
  const drawn: Point = [rayDot(byX, across), rayDot(byY, across)]
  const gain = lensGain(lens, unit, drawn)
  const lengthPx = Math.hypot(ends[1][0] - ends[0][0], ends[1][1] - ends[0][1])
  return gain === null ? null : { stretch: Math.hypot(...drawn) / lengthPx, gain }
}
