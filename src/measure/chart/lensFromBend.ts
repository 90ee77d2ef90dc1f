import type { CameraLens } from '../../lens/cameraLens.js'
import { pOfCubic } from '../../lens/cubicBend.js'
import { choleskyInverse, choleskySolve } from '../../math/cholesky.js'
import type { Point } from '../../math/point.js'
import { BEND_TERMS } from './bendShape.js'
import type { ChartBend } from './chartBend.js'
import { lensBend, type PlaneChart } from './bendThroughLens.js'

/** What a chart's bend says of a lens whose axis meets the still in its middle. */
export interface LensOfBend {
  readonly lens: CameraLens
  /** Covariance of q and ln F, row by row, priors in it. */
  readonly covariance: Float64Array
  /** The bend's terms per unit of q and of ln F, two by two: eight rows. */
  readonly slopes: Float64Array
  /** The statistic of the bend (chi-square of eight terms) without a lens and with this one. */
  readonly without: number
  readonly left: number
}

/** Where a still's middle lies, in the picture's px, and half its diagonal, px. */
export interface StillFrame {
  readonly middle: Point
  readonly halfDiagonalPx: number
}

// This project's conventions. What is taken for granted of a lens nothing is known of: its bend q, and its pixels per radian against half the still's diagonal.
const Q_MEAN = 0.1
const Q_SIGMA = 0.15
const Q_LEAST = -1 / 6
const Q_MOST = 1 / 3
const LOG_F_MEAN = 0
const LOG_F_SIGMA = 0.6
const STEPS = 12
const STEP_Q = 1e-4
const STEP_F = 1e-4
const SETTLED = 1e-3

/**
 * The lens of the family (bend q and pixels per radian) that draws a flat chart as bent as this one is, its axis in the still's middle: least squares of the bend's
 * eight terms, with weak priors for what they do not tell, by Levenberg and Marquardt. Null where no lens has an image of it.
 */
export function lensOfBend(
  chart: PlaneChart,
  middle: Point,
  bend: ChartBend,
  still: StillFrame,
  begin: readonly [number, number] = [0.02, 0],
): LensOfBend | null {
  const scale = 1 / Math.max(1, bend.unexplained)
  const lensOf = ([q, logF]: readonly [number, number]): CameraLens => ({
    p: pOfCubic(q),
    pixelsPerRadian: still.halfDiagonalPx * Math.exp(logF),
    centreX: still.middle[0],
    centreY: still.middle[1],
  })
  const termsOf = (at: readonly [number, number]) => lensBend(chart, lensOf(at), middle)
  const off = (terms: Float64Array) => terms.map((value, k) => bend.terms[k]! - value)
  const wald = (rest: Float64Array): number => scale * quadratic(bend.information, rest)
  const pull = ([q, logF]: readonly [number, number]): number =>
    ((q - Q_MEAN) / Q_SIGMA) ** 2 + ((logF - LOG_F_MEAN) / LOG_F_SIGMA) ** 2
  let at = begin
  let here = termsOf(at)
  if (here === null) return null
  let cost = wald(off(here)) + pull(at)
  let damping = 1e-2
  const slopes = new Float64Array(2 * BEND_TERMS)
  const matrix = new Float64Array(4)
  const right = new Float64Array(2)
  const linear = (): boolean => {
    const [q, logF] = at
    const [byQ, lessQ] = [termsOf([q + STEP_Q, logF]), termsOf([q - STEP_Q, logF])]
    const [byF, lessF] = [termsOf([q, logF + STEP_F]), termsOf([q, logF - STEP_F])]
    if (byQ === null || lessQ === null || byF === null || lessF === null) return false
    for (let k = 0; k < BEND_TERMS; k += 1) {
      slopes[2 * k] = (byQ[k]! - lessQ[k]!) / (2 * STEP_Q)
      slopes[2 * k + 1] = (byF[k]! - lessF[k]!) / (2 * STEP_F)
    }
    const rest = off(here!)
    matrix.set([1 / Q_SIGMA ** 2, 0, 0, 1 / LOG_F_SIGMA ** 2])
    right.set([(Q_MEAN - q) / Q_SIGMA ** 2, (LOG_F_MEAN - logF) / LOG_F_SIGMA ** 2])
    for (let i = 0; i < BEND_TERMS; i += 1)
      for (let j = 0; j < BEND_TERMS; j += 1) {
        const weight = scale * bend.information[i * BEND_TERMS + j]!
        for (const a of [0, 1] as const) {
          right[a]! += slopes[2 * i + a]! * weight * rest[j]!
          for (const b of [0, 1] as const)
            matrix[2 * a + b]! += slopes[2 * i + a]! * weight * slopes[2 * j + b]!
        }
      }
    return true
  }
  for (let step = 0; step < STEPS; step += 1) {
    if (!linear()) return null
    const damped = matrix.slice()
    damped[0]! *= 1 + damping
    damped[3]! *= 1 + damping
    const move = new Float64Array(2)
    if (!choleskySolve(damped, right, move)) return null
    const next = [Math.min(Q_MOST, Math.max(Q_LEAST, at[0] + move[0]!)), at[1] + move[1]!] as const
    const there = termsOf(next)
    const worth = there === null ? Infinity : wald(off(there)) + pull(next)
    if (there === null || !(worth <= cost)) {
      damping *= 10
      continue
    }
    const fell = cost - worth
    ;[at, here, cost, damping] = [next, there, worth, damping / 5]
    if (fell < SETTLED) break
  }
  if (!linear()) return null
  const covariance = choleskyInverse(matrix, 2)
  if (covariance === null) return null
  return { lens: lensOf(at), covariance, slopes, without: wald(bend.terms), left: wald(off(here)) }
}

function quadratic(matrix: Float64Array, vector: Float64Array): number {
  const n = vector.length
  let sum = 0
  for (let i = 0; i < n; i += 1)
    for (let j = 0; j < n; j += 1) sum += vector[i]! * matrix[i * n + j]! * vector[j]!
  return sum
}
