import { fault } from '../sentences.js'
import { mathSays } from './sentences.js'

/** One part of a combined standard uncertainty: |sensitivity| times u, and the degrees of freedom behind it. */
export interface Contribution {
  readonly u: number
  /** Infinity where the part is known, not estimated from scatter. */
  readonly dof: number
}

/**
 * Effective degrees of freedom of the root sum of squares of independent contributions, by the Welch-Satterthwaite
 * formula (JCGM 100:2008, G.2b): u_c^4 / sum(u_i^4 / dof_i). Infinity where no part has finitely many, or all are 0.
 * @throws `ProofwalkError` `bad-argument` where a contribution is not finite, or its degrees of freedom are not above 0
 */
export function effectiveDof(contributions: readonly Contribution[]): number {
  let variance = 0
  let fourth = 0
  for (const { u, dof } of contributions) {
    if (!Number.isFinite(u) || !(dof > 0)) {
      throw fault(mathSays['bad-contribution'](u, dof))
    }
    variance += u * u
    fourth += (u * u) ** 2 / dof
  }
  return fourth > 0 ? variance ** 2 / fourth : Infinity
}
