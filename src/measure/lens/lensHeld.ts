import { STAND_UNKNOWNS } from './lensBlock.js'
import { reduced, type LensNormal } from './lensNormal.js'
import type { LensProblem, LensState } from './lensProblem.js'
import { STILL_RESIDUALS, writeResiduals } from './lensResiduals.js'

/** The part of chi-square that is the convention on how references are held. */
export function heldChi2({ blocks, middle }: LensProblem, { unknowns, stands }: LensState): number {
  const residuals = new Float64Array(STILL_RESIDUALS)
  return blocks.reduce((sum, block, i) => {
    writeResiduals(block, stands[i]!, unknowns, middle, residuals)
    return sum + residuals[8]! ** 2 + residuals[9]! ** 2
  }, 0)
}

/** The trace of the convention's weight through each still's inverse: 0 where corners tell the turn, 2 where they tell nothing of it. */
export function heldDof({ blocks }: LensProblem, normal: LensNormal): number {
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
