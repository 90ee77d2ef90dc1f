import { groupBy } from '../../math/groupBy.js'
import { effectiveDof } from '../../math/effectiveDof.js'
import { coverageFactor } from '../../math/quantiles.js'
import { dot } from '../../math/normalEquations.js'
import type { RangeFit } from './rangeFit.js'

/** What an uncertainty comes from: points set at each mark, tapes, where the tape begins, a reference's size, a bent view, the habit of a hand, a lens half known; and the share of detail. */
export type UncertaintySource = 'points' | 'tapes' | 'start' | 'size' | 'bend' | 'habit' | 'lens' | 'detail'

/** One independent contribution to a logarithm: its cause, its standard uncertainty and its degrees of freedom. */
interface Part {
  readonly cause: UncertaintySource
  readonly u: number
  readonly dof: number
}

// ln F has no prior of its own; see `COMMON_DRAWS` for the others.
const PRIOR_CAUSES: readonly UncertaintySource[] = [
  'points',
  'start',
  'size',
  'size',
  'bend',
  'habit',
  'lens',
  'lens',
]

/** What was last worked out of a fit: where no lens is known, and beyond the marks, the line is the same at every distance. */
const lastOf = new WeakMap<RangeFit, { readonly line: readonly number[]; readonly U: number }>()

/**
 * Expanded relative uncertainty, 95 %, of a logarithm that answers to ln F, the offset and the shared draws as `line` says: every independent draw propagated once
 * (JCGM 100:2008, 5.1.2). Noise and tape widen with the fit (Birge); the coverage factor is t at the Welch-Satterthwaite degrees of freedom where repeats or the
 * fit were widened, else 2.
 * @throws `ProofwalkError` `bad-argument` where the fit is of no finite marks
 */
export function expandedOf(fit: RangeFit, line: readonly number[]): number {
  const last = lastOf.get(fit)
  if (last?.line.every((share, k) => share === line[k])) return last.U
  const parts = pooled(partsOf(fit, line))
  const U = coverageFactor(effectiveDof(parts)) * Math.hypot(...parts.map(({ u }) => u))
  lastOf.set(fit, { line, U })
  return U
}

/** The same taken apart: relative variance by cause. */
export function variancesOf(fit: RangeFit, line: readonly number[]): Map<UncertaintySource, number> {
  const byCause = groupBy(partsOf(fit, line), ({ cause }) => cause)
  return new Map([...byCause].map(([cause, parts]) => [cause, parts.reduce((sum, { u }) => sum + u * u, 0)]))
}

function partsOf({ marks, constant, widening, dof }: RangeFit, line: readonly number[]): Part[] {
  const { covariance, rows, weights, priorWeights } = constant
  const answers = covariance.map((row) => dot(row, line))
  const throughPoint = rows.map((row, i) => widening * weights[i]! * dot(row, answers))
  return [
    // A prior of weight p moves the answer by its share times p, with a variance of 1 / p.
    ...priorWeights.map((prior, k) => {
      return { cause: PRIOR_CAUSES[k]!, u: Math.sqrt(prior) * answers[k]!, dof: Infinity }
    }),
    ...marks.flatMap(({ mark, used, point }, i): Part[] => [
      { cause: 'points', u: throughPoint[i]! * point.ownRel, dof: Math.min(dof, mark.axes[used]!.dof) },
      {
        cause: 'tapes',
        u: throughPoint[i]! * Math.sqrt(Math.max(0, 1 / weights[i]! - point.ownRel ** 2)),
        dof,
      },
    ]),
  ]
}

// Marks widened by one pooled scatter share its degrees of freedom: they are one contribution, not several.
function pooled(parts: readonly { u: number; dof: number }[]): { u: number; dof: number }[] {
  return [...new Set(parts.map(({ dof }) => dof))].map((dof) => ({
    u: Math.hypot(...parts.filter((part) => part.dof === dof).map(({ u }) => u)),
    dof,
  }))
}
