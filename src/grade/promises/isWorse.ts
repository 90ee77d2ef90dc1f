import type { ComparedPromise } from '../compare/comparison.js'
import type { Verdict } from '../judgement.js'

const RANK: Readonly<Record<Verdict, number>> = { 'not met': 0, 'not shown': 1, met: 2 }

/** Whether a promise that both walks made came to a worse verdict: met, then not shown, then not met. */
export function isWorse({ before, after }: ComparedPromise): boolean {
  return before !== null && after !== null && RANK[after] < RANK[before]
}
