import { choleskyInverse } from '../../math/cholesky.js'
import { STAND_UNKNOWNS } from './lensBlock.js'
import type { LensProblem, LensState } from './lensProblem.js'
import { STILL_RESIDUALS, writeResiduals } from './lensResiduals.js'
import { columnsOf, UNKNOWN_COLUMNS, writeSlopes } from './lensSlopes.js'
import { sheetResidual } from './sheetSides.js'
import { turnCurvature } from './turnCurvature.js'

/** One still's part. */
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

/** Normal equations of a walk's lens: of what all stills share, with each still's own five unknowns apart. */
export interface LensNormal {
  readonly count: number
  readonly matrix: Float64Array
  readonly right: Float64Array
  readonly blocks: readonly BlockNormal[]
}

/** The normal equations at a state. */
export function lensNormal(problem: LensProblem, { unknowns, stands }: LensState): LensNormal {
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
export function reduced(normal: LensNormal, damping: number) {
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
