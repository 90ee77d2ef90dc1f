import type { PromiseResult, Verdict } from '../judgement.js'
import type { ComparedPromise } from '../compare/comparison.js'

/** Verdicts' order, the worst first. */
const RANK: Readonly<Record<Verdict, number>> = { 'not met': 0, 'not shown': 1, met: 2 }

/** Whether a promise that both walks made came to a worse verdict: met, then not shown, then not met. */
export function isWorse({ before, after }: ComparedPromise): boolean {
  return before !== null && after !== null && RANK[after] < RANK[before]
}

/** The worst verdict first; what is equal keeps its order. */
export function byWorst(one: { readonly verdict: Verdict }, other: { readonly verdict: Verdict }): number {
  return RANK[one.verdict] - RANK[other.verdict]
}

/**
 * The order of promises, the worst first: those not met, farthest under their limit first; those not shown, without a value first; those met, closest to their limit
 * first. What is equal keeps its order.
 */
export function worstFirst(one: PromiseResult, other: PromiseResult): number {
  return RANK[one.verdict] - RANK[other.verdict] || margin(one) - margin(other)
}

/** The end of the interval that decides, over the limit; where less is promised, the limit over it. */
function margin({ verdict, low, high, limit, kind }: PromiseResult): number {
  const isMost = kind === 'most'
  const end = (verdict === 'not met') === isMost ? low : high
  if (end === null) return -1
  return isMost ? limit / end : end / limit
}
