import { choleskyInverse, choleskySolve } from '../../math/cholesky.js'
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
/** Where the turn of far references hardly shows, the descent creeps along a valley: a fall under this over so many steps moves nothing that counts. */
const CREEPING_STEPS = 30
const CREEPING_FALL = 0.05
/** A foretold fall of chi-square under this is none: a hundredth of a standard deviation. */
const SETTLED = 1e-4

/**
 * Damped Gauss-Newton (Levenberg, Marquardt) on a walk's lens. Each still's own five unknowns are eliminated from the normal equations before they are
 * solved (the Schur complement of bundle adjustment), so the work grows with the number of stills only. Null where it does not settle.
 */
export function lensDescent(problem: LensProblem, start: LensState): SettledLens | null {
  let state = start
  let chi2 = chi2Of(problem, state)
  if (!(chi2 < Infinity)) return null
  let damping = 1e-3
  let growth = 2
  let normal = lensNormal(problem, state)
  let chi2Before = chi2
  for (let step = 0; step < MOST_STEPS; step += 1) {
    const solved = solveDamped(state, normal, damping)
    if (solved === null) {
      damping *= 10
      if (damping > 1e12) return null
      continue
    }
    const creeping = step > 0 && step % CREEPING_STEPS === 0 && chi2Before - chi2 < CREEPING_FALL
    if (step % CREEPING_STEPS === 0) chi2Before = chi2
    if (solved.foretold < SETTLED || creeping) {
      const covariance = marginalCovariance(normal)
      if (covariance === null) return null
      return {
        ...state,
        chi2: chi2 - heldChi2(problem, state),
        heldDof: heldDof(problem, normal),
        covariance,
      }
    }
    const trialChi2 = chi2Of(problem, solved.state)
    if (trialChi2 < chi2) {
      const ratio = (chi2 - trialChi2) / solved.foretold
      state = solved.state
      chi2 = trialChi2
      normal = lensNormal(problem, state)
      damping *= Math.max(1 / 10, 1 - (2 * Math.min(ratio, 1) - 1) ** 3)
      growth = 2
    } else {
      damping *= growth
      growth *= 2
      if (damping > 1e12) return null
    }
  }
  return null
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

function solveDamped(
  state: LensState,
  normal: LensNormal,
  damping: number,
): { readonly state: LensState; readonly foretold: number } | null {
  const k = normal.count
  const system = reduced(normal, damping)
  if (system === null) return null
  const step = new Float64Array(k)
  if (!choleskySolve(system.matrix, system.right, step)) return null
  const unknowns = state.unknowns.map((value, j) => value - step[j]!)
  let foretold = 0
  for (let j = 0; j < k; j += 1)
    foretold += step[j]! * (normal.right[j]! + damping * normal.matrix[j * k + j]! * step[j]!)
  const stands = state.stands.map((stand, at): Stand => {
    const { columns, own, ownRight, shared } = normal.blocks[at]!
    const inverse = system.inverses[at]!
    const rest = ownRight.map((value, a) =>
      columns.reduce((sum, column, c) => sum - shared[c * STAND_UNKNOWNS + a]! * step[column]!, value),
    )
    const moved = rest.map((_, a) =>
      rest.reduce((sum, value, b) => sum + inverse[a * STAND_UNKNOWNS + b]! * value, 0),
    )
    for (const [a, by] of moved.entries())
      foretold += by * (ownRight[a]! + damping * own[a * (STAND_UNKNOWNS + 1)]! * by)
    return {
      frame: stand.frame,
      turn: composeTurns(stand.turn, turnAbout(-moved[0]!, -moved[1]!, -moved[2]!)),
      u: stand.u - moved[3]!,
      v: stand.v - moved[4]!,
    }
  })
  return { state: { unknowns, stands }, foretold }
}

function marginalCovariance(normal: LensNormal): Float64Array | null {
  const system = reduced(normal, 0)
  return system === null ? null : choleskyInverse(system.matrix, normal.count)
}
