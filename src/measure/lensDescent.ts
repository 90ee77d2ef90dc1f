import { choleskyInverse, choleskySolve } from '../math/cholesky.js'
import type { Point } from '../math/point.js'
import {
  columnsOf,
  STAND_UNKNOWNS,
  STILL_RESIDUALS,
  UNKNOWN_COLUMNS,
  turnCurvature,
  writeResiduals,
  writeSlopes,
  type LensBlock,
  type Stand,
} from './lensBlock.js'
import type { SheetSide } from './sheetSides.js'
import { sheetResidual } from './sheetSides.js'
import { composeTurns, turnAbout } from './turn.js'

/** All that is unknown of a walk: the lens with what all stills share, and where each reference stood. */
export interface LensState {
  readonly unknowns: Float64Array
  readonly stands: readonly Stand[]
}

/** What the state is fitted to. */
export interface LensProblem {
  readonly blocks: readonly LensBlock[]
  readonly priorSigma: Float64Array
  readonly sides: readonly SheetSide[]
  /** Places of the lights' ln F in the unknowns. */
  readonly logFAt: readonly number[]
  /** Middle of the still, px. */
  readonly middle: Point
}

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
  let normal = normalOf(problem, state)
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
      normal = normalOf(problem, state)
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

interface BlockNormal {
  readonly columns: readonly number[]
  /** 5 x 5, 5, and columns x 5. */
  readonly own: Float64Array
  /** `own` with the bending of the residuals; not always positive definite. */
  readonly curved: Float64Array
  readonly ownRight: Float64Array
  readonly shared: Float64Array
  /** The share of `own` that is the convention on how references are held. */
  readonly held: Float64Array
}

interface Normal {
  readonly count: number
  readonly matrix: Float64Array
  readonly right: Float64Array
  readonly blocks: readonly BlockNormal[]
}

function normalOf(problem: LensProblem, { unknowns, stands }: LensState): Normal {
  const k = unknowns.length
  const matrix = new Float64Array(k * k)
  const right = new Float64Array(k)
  const residuals = new Float64Array(STILL_RESIDUALS)
  const byStand = new Float64Array(STILL_RESIDUALS * STAND_UNKNOWNS)
  const byUnknown = new Float64Array(STILL_RESIDUALS * UNKNOWN_COLUMNS)
  const blocks = problem.blocks.map((block, at): BlockNormal => {
    const columns = columnsOf(block)
    const own = new Float64Array(STAND_UNKNOWNS ** 2)
    const ownRight = new Float64Array(STAND_UNKNOWNS)
    const shared = new Float64Array(columns.length * STAND_UNKNOWNS)
    writeResiduals(block, stands[at]!, unknowns, problem.middle, residuals)
    writeSlopes(block, stands[at]!, unknowns, problem.middle, byStand, byUnknown)
    for (let r = 0; r < STILL_RESIDUALS; r += 1) {
      const residual = residuals[r]!
      for (let a = 0; a < STAND_UNKNOWNS; a += 1) {
        const slope = byStand[r * STAND_UNKNOWNS + a]!
        ownRight[a]! += slope * residual
        for (let b = 0; b < STAND_UNKNOWNS; b += 1)
          own[a * STAND_UNKNOWNS + b]! += slope * byStand[r * STAND_UNKNOWNS + b]!
      }
      // Plain counting: these loops are where the time goes.
      for (let c = 0; c < columns.length; c += 1) {
        const slope = byUnknown[r * UNKNOWN_COLUMNS + c]!
        const row = columns[c]! * k
        right[columns[c]!]! += slope * residual
        for (let a = 0; a < STAND_UNKNOWNS; a += 1)
          shared[c * STAND_UNKNOWNS + a]! += slope * byStand[r * STAND_UNKNOWNS + a]!
        for (let d = 0; d < columns.length; d += 1)
          matrix[row + columns[d]!]! += slope * byUnknown[r * UNKNOWN_COLUMNS + d]!
      }
    }
    const held = own.map((_, ab) => {
      const a = Math.floor(ab / STAND_UNKNOWNS)
      const b = ab % STAND_UNKNOWNS
      const [first, second] = [8 * STAND_UNKNOWNS, 9 * STAND_UNKNOWNS]
      return byStand[first + a]! * byStand[first + b]! + byStand[second + a]! * byStand[second + b]!
    })
    const curvature = turnCurvature(block, stands[at]!, unknowns, problem.middle, residuals)
    const curved = own.map((value, ab) => value + curvature[ab]!)
    return { columns, own, curved, ownRight, shared, held }
  })
  for (const [j, sigma] of problem.priorSigma.entries()) {
    matrix[j * k + j]! += 1 / sigma ** 2
    right[j]! += unknowns[j]! / sigma ** 2
  }
  for (const side of problem.sides) {
    const row = sheetResidual(side, unknowns, problem.logFAt)
    if (row === null) continue
    for (const [i, slope] of row.slopes) {
      right[i]! += slope * row.residual
      for (const [j, other] of row.slopes) matrix[i * k + j]! += slope * other
    }
  }
  return { count: k, matrix, right, blocks }
}

/** The matrix and right side with every still's own unknowns eliminated, and each still's inverse; null where one is not determined. */
function reduced(normal: Normal, damping: number) {
  const k = normal.count
  const matrix = Float64Array.from(normal.matrix)
  const right = Float64Array.from(normal.right)
  for (let j = 0; j < k; j += 1) matrix[j * k + j]! *= 1 + damping
  const inverses: Float64Array[] = []
  for (const { columns, own, curved, ownRight, shared } of normal.blocks) {
    const inverse =
      (damping > 0 ? dampedInverse(curved, own, damping) : null) ?? dampedInverse(own, own, damping)
    if (inverse === null) return null
    inverses.push(inverse)
    for (let c = 0; c < columns.length; c += 1) {
      const row = columns[c]! * k
      for (let a = 0; a < STAND_UNKNOWNS; a += 1) {
        let through = 0
        for (let b = 0; b < STAND_UNKNOWNS; b += 1)
          through += shared[c * STAND_UNKNOWNS + b]! * inverse[b * STAND_UNKNOWNS + a]!
        right[columns[c]!]! -= through * ownRight[a]!
        for (let d = 0; d < columns.length; d += 1)
          matrix[row + columns[d]!]! -= through * shared[d * STAND_UNKNOWNS + a]!
      }
    }
  }
  return { matrix, right, inverses }
}

function dampedInverse(matrix: Float64Array, scale: Float64Array, damping: number): Float64Array | null {
  const damped = Float64Array.from(matrix)
  for (let d = 0; d < damped.length; d += STAND_UNKNOWNS + 1) damped[d]! += damping * scale[d]!
  return choleskyInverse(damped, STAND_UNKNOWNS)
}

function solveDamped(
  state: LensState,
  normal: Normal,
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

function marginalCovariance(normal: Normal): Float64Array | null {
  const system = reduced(normal, 0)
  return system === null ? null : choleskyInverse(system.matrix, normal.count)
}

/** The part of chi-square that is the convention on how references are held. */
function heldChi2({ blocks, middle }: LensProblem, { unknowns, stands }: LensState): number {
  const residuals = new Float64Array(STILL_RESIDUALS)
  return blocks.reduce((sum, block, i) => {
    writeResiduals(block, stands[i]!, unknowns, middle, residuals)
    return sum + residuals[8]! ** 2 + residuals[9]! ** 2
  }, 0)
}

/** The trace of the convention's weight through each still's inverse: 0 where corners tell the turn, 2 where they tell nothing of it. */
function heldDof({ blocks }: LensProblem, normal: Normal): number {
  const system = reduced(normal, 0)
  if (system === null) return 0
  let dof = 0
  for (const [i] of blocks.entries()) {
    const { held } = normal.blocks[i]!
    const inverse = system.inverses[i]!
    for (let a = 0; a < STAND_UNKNOWNS; a += 1)
      for (let b = 0; b < STAND_UNKNOWNS; b += 1)
        dof += held[a * STAND_UNKNOWNS + b]! * inverse[b * STAND_UNKNOWNS + a]!
  }
  return dof
}
