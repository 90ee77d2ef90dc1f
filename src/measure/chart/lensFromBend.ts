import type { CameraLens } from '../../lens/cameraLens.js'
import { quadratic } from '../../math/normalEquations.js'
import { pOfCubic } from '../../lens/cubicBend.js'
import { choleskyInverse } from '../../math/cholesky.js'
import { dampedDescent, lazyLook } from '../../math/dampedDescent.js'
import type { NormalEquations } from '../../math/normalEquations.js'
import type { Point } from '../../math/point.js'
import { BEND_TERMS } from './bendShape.js'
import type { ChartBend } from './chartBend.js'
import { bendThroughLens, type PlaneChart } from './bendThroughLens.js'

/** What a chart's bend says of a lens whose axis meets the still in its middle. */
export interface LensFromBend {
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
const FIRST_DAMPING = 1e-2
/** A fall of the statistic under this is none. */
const SETTLED = 1e-3

/** A bend q and the logarithm of pixels per radian against half the still's diagonal. */
type BentLens = readonly [q: number, logF: number]

/**
 * The lens of the family (bend q and pixels per radian) that draws a flat chart as bent as this one is, its axis in the still's middle: least squares of the bend's
 * eight terms, with weak priors for what they do not tell. Null where no lens has an image of it.
 */
export function lensFromBend(
  chart: PlaneChart,
  middle: Point,
  bend: ChartBend,
  still: StillFrame,
  begin: BentLens = [0.02, 0],
): LensFromBend | null {
  const scale = 1 / Math.max(1, bend.noise)
  const lensOf = ([q, logF]: BentLens): CameraLens => ({
    p: pOfCubic(q),
    pixelsPerRadian: still.halfDiagonalPx * Math.exp(logF),
    centreX: still.middle[0],
    centreY: still.middle[1],
  })
  const termsAt = (q: number, logF: number) => bendThroughLens(chart, lensOf([q, logF]), middle)
  const look = ([q, logF]: BentLens) => {
    const terms = termsAt(q, logF)
    const rest = bend.terms.map((value, k) => value - (terms?.[k] ?? Infinity))
    const wald = scale * quadratic(bend.information, rest)
    const pull = ((q - Q_MEAN) / Q_SIGMA) ** 2 + ((logF - LOG_F_MEAN) / LOG_F_SIGMA) ** 2
    const slopes = new Float64Array(2 * BEND_TERMS)
    const equations = (): NormalEquations | null => {
      const [byQ, lessQ] = [termsAt(q + STEP_Q, logF), termsAt(q - STEP_Q, logF)]
      const [byF, lessF] = [termsAt(q, logF + STEP_F), termsAt(q, logF - STEP_F)]
      if (byQ === null || lessQ === null || byF === null || lessF === null) return null
      for (let k = 0; k < BEND_TERMS; k += 1) {
        slopes[2 * k] = (byQ[k]! - lessQ[k]!) / (2 * STEP_Q)
        slopes[2 * k + 1] = (byF[k]! - lessF[k]!) / (2 * STEP_F)
      }
      return equationsOf(bend.information, scale, slopes, rest, [q, logF])
    }
    return { ...lazyLook(terms === null ? Infinity : wald + pull, equations), wald, slopes }
  }
  const { end, state, seen } = dampedDescent({
    start: begin,
    firstDamping: FIRST_DAMPING,
    mostSteps: STEPS,
    look,
    moved: ([q, logF], step): BentLens => [
      Math.min(Q_MOST, Math.max(Q_LEAST, q + step[0]!)),
      logF + step[1]!,
    ],
    isSettled: ({ fall, isTaken }) => isTaken && fall < SETTLED,
  })
  const equations = end === 'nowhere' || end === 'not-determined' ? null : seen.equations()
  const covariance = equations === null ? null : choleskyInverse(equations.matrix, 2)
  if (covariance === null) return null
  const without = scale * quadratic(bend.information, bend.terms)
  return { lens: lensOf(state), covariance, slopes: seen.slopes, without, left: seen.wald }
}

function equationsOf(
  information: Float64Array,
  scale: number,
  slopes: Float64Array,
  rest: Float64Array,
  [q, logF]: BentLens,
): NormalEquations {
  const matrix = Float64Array.of(1 / Q_SIGMA ** 2, 0, 0, 1 / LOG_F_SIGMA ** 2)
  const right = Float64Array.of((Q_MEAN - q) / Q_SIGMA ** 2, (LOG_F_MEAN - logF) / LOG_F_SIGMA ** 2)
  for (let i = 0; i < BEND_TERMS; i += 1)
    for (let j = 0; j < BEND_TERMS; j += 1) {
      const weight = scale * information[i * BEND_TERMS + j]!
      for (const a of [0, 1] as const) {
        right[a]! += slopes[2 * i + a]! * weight * rest[j]!
        for (const b of [0, 1] as const)
          matrix[2 * a + b]! += slopes[2 * i + a]! * weight * slopes[2 * j + b]!
      }
    }
  return { matrix, right }
}
