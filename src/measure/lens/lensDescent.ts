import { choleskyInverse, choleskySolve } from '../../math/cholesky.js'
import { dampedDescent, type DampedStep } from '../../math/dampedDescent.js'
import { STAND_UNKNOWNS, type Stand } from './lensBlock.js'
import { heldChi2, heldDof } from './lensHeld.js'
import { lensNormal, reduced, type LensNormal } from './lensNormal.js'
import type { LensProblem, LensState } from './lensProblem.js'
import { STILL_RESIDUALS, writeResiduals } from './lensResiduals.js'
import { sheetResidual } from './sheetSides.js'
import { composeTurns, turnAbout } from '../pose/turn.js'

/** Where the descent ended. */
export interface SettledLens extends LensState {
  /** Sum of squared residuals, those of what was known beforehand included but for how references are held. */
  readonly chi2: number
  /** How many unknowns of turn were told by how references are held and not by the corners. */
  readonly heldDof: number
  /** Covariance of the unknowns, row by row, where each reference stood being free. */
  readonly covariance: Float64Array
}

const MOST_STEPS = 90
/** A fall of chi-square under this is none: a hundredth of a standard deviation. */
const SETTLED = 1e-4

/**
 * The damped descent on a walk's lens. Each still's own five unknowns are eliminated from the normal equations before they are
 * solved (the Schur complement of bundle adjustment), so the work grows with the number of stills only. Null where it does not settle.
 */
export function lensDescent(problem: LensProblem, start: LensState): SettledLens | null {
  const { end, state, seen } = dampedDescent({
    start,
    mostSteps: MOST_STEPS,
    look: (at) => {
      let known: LensNormal | null = null
      const normal = (): LensNormal => (known ??= lensNormal(problem, at))
      return { sum: chi2Of(problem, at), normal, step: (damping) => dampedStep(normal(), damping) }
    },
    moved,
    leastFall: SETTLED,
    steeredTo: 1 / 10,
    isSettled: () => false,
  })
  const covariance = end === 'there' ? marginalCovariance(seen.normal()) : null
  if (covariance === null) return null
  return {
    ...state,
    chi2: seen.sum - heldChi2(problem, state),
    heldDof: heldDof(problem, seen.normal()),
    covariance,
  }
}

function chi2Of(problem: LensProblem, { unknowns, stands }: LensState): number {
  const residuals = new Float64Array(STILL_RESIDUALS)
  let sum = 0
  for (const [i, block] of problem.blocks.entries()) {
    if (!writeResiduals(block, stands[i]!, unknowns, problem.middle, residuals)) return Infinity
    for (const each of residuals) sum += each * each
  }
  for (const [j, sigma] of problem.priorSigma.entries()) sum += (unknowns[j]! / sigma) ** 2
  for (const side of problem.sides) {
    const row = sheetResidual(side, unknowns, problem.logFAt)
    if (row === null) return Infinity
    sum += row.residual ** 2
  }
  return sum
}

/** The shared unknowns' steps, then five a still. */
function dampedStep(normal: LensNormal, damping: number): DampedStep | null {
  const k = normal.count
  const system = reduced(normal, damping)
  if (system === null) return null
  const shared = new Float64Array(k)
  if (!choleskySolve(system.matrix, system.right, shared)) return null
  const step = new Float64Array(k + STAND_UNKNOWNS * normal.blocks.length)
  let foretold = 0
  const put = (at: number, uphill: number, right: number, curvature: number): void => {
    step[at] = -uphill
    foretold += uphill * (right + damping * curvature * uphill)
  }
  for (let j = 0; j < k; j += 1) put(j, shared[j]!, normal.right[j]!, normal.matrix[j * k + j]!)
  for (const [at, { columns, own, ownRight, shared: coupling }] of normal.blocks.entries()) {
    const inverse = system.inverses[at]!
    const rest = ownRight.map((value, a) =>
      columns.reduce((sum, column, c) => sum - coupling[c * STAND_UNKNOWNS + a]! * shared[column]!, value),
    )
    for (let a = 0; a < STAND_UNKNOWNS; a += 1) {
      const by = rest.reduce((sum, value, b) => sum + inverse[a * STAND_UNKNOWNS + b]! * value, 0)
      put(k + STAND_UNKNOWNS * at + a, by, ownRight[a]!, own[a * (STAND_UNKNOWNS + 1)]!)
    }
  }
  return { step, foretold }
}

function moved({ unknowns, stands }: LensState, step: Float64Array): LensState {
  const k = unknowns.length
  return {
    unknowns: unknowns.map((value, j) => value + step[j]!),
    stands: stands.map((stand, at): Stand => {
      const [a, b, c, u, v] = step.subarray(k + STAND_UNKNOWNS * at) as unknown as StandStep
      return {
        frame: stand.frame,
        turn: composeTurns(stand.turn, turnAbout(a, b, c)),
        u: stand.u + u,
        v: stand.v + v,
      }
    }),
  }
}

type StandStep = readonly [number, number, number, number, number]

function marginalCovariance(normal: LensNormal): Float64Array | null {
  const system = reduced(normal, 0)
  return system === null ? null : choleskyInverse(system.matrix, normal.count)
}
