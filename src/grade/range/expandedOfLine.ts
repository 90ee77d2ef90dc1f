import { coverageFactor } from '../../math/quantiles.js'
import { effectiveDof } from '../../math/effectiveDof.js'
import type { PropagatedLine } from './propagateFit.js'
import type { RangeFit } from './rangeFit.js'

/**
 * Expanded uncertainty, 95 %, of what was propagated through a fit. Noise and tape widen with the fit (Birge); the coverage factor is
 * t at the Welch-Satterthwaite degrees of freedom where repeats or the fit were widened, else 2.
 */
export function expandedOfLine(fit: RangeFit, line: PropagatedLine): number {
  const widening = fit.widening ** 2
  const stated = line.priorVariance + line.common.reduce((sum, draw) => sum + draw ** 2, 0)
  const scattered = fit.marks.map(({ mark, used }, i) => ({
    u: Math.sqrt(line.ownVariance[i]! * widening),
    dof: Math.min(fit.dof, mark.axes[used]!.dof),
  }))
  const parts = [
    { u: Math.sqrt(stated), dof: Infinity },
    { u: Math.sqrt(line.tapeVariance * widening), dof: fit.dof },
    ...pooled(scattered),
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
