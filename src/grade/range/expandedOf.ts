import { effectiveDof } from '../../math/effectiveDof.js'
import { coverageFactor } from '../../math/quantiles.js'
import { dot } from './fitConstant.js'
import type { RangeFit } from './rangeFit.js'

/**
 * Expanded relative uncertainty, 95 %, of a logarithm that answers to ln F, the offset and the shared draws as `line` says: every independent draw propagated once
 * (JCGM 100:2008, 5.1.2). Noise and tape widen with the fit (Birge); the coverage factor is t at the Welch-Satterthwaite degrees of freedom where repeats or the
 * fit were widened, else 2.
 * @throws `ProofwalkError` `bad-argument` where the fit is of no finite marks
 */
export function expandedOf({ marks, constant, widening, dof }: RangeFit, line: readonly number[]): number {
  const { covariance, rows, weights, priorWeights } = constant
  const answers = covariance.map((row) => dot(row, line))
  const throughPoint = rows.map((row, i) => widening * weights[i]! * dot(row, answers))
  // A prior of weight p moves the answer by its share times p, with a variance of 1 / p.
  const stated = Math.sqrt(
    dot(
      priorWeights,
      answers.map((each) => each ** 2),
    ),
  )
  const parts = [
    { u: stated, dof: Infinity },
    ...pooled(
      marks.flatMap(({ mark, used, point }, i) => [
        { u: throughPoint[i]! * point.ownRel, dof: Math.min(dof, mark.axes[used]!.dof) },
        { u: throughPoint[i]! * Math.sqrt(Math.max(0, 1 / weights[i]! - point.ownRel ** 2)), dof },
      ]),
    ),
  ]
  return coverageFactor(effectiveDof(parts)) * Math.hypot(...parts.map(({ u }) => u))
}

// Marks widened by one pooled scatter share its degrees of freedom: they are one contribution, not several.
function pooled(parts: readonly { u: number; dof: number }[]): { u: number; dof: number }[] {
  return [...new Set(parts.map(({ dof }) => dof))].map((dof) => ({
    u: Math.hypot(...parts.filter((part) => part.dof === dof).map(({ u }) => u)),
    dof,
  }))
}
