import { coverageFactor, chi2Quantile, tQuantile } from '../../math/quantiles.js'
import { effectiveDof } from '../../math/effectiveDof.js'

/**
 * The logarithm of a ratio, after over before, with its uncertainty taken apart (relative standard uncertainties): `ownRel` at `dof` is of this
 * mark alone, `common[i]` is its change when the i-th draw shared by all marks is one standard deviation up.
 */
export interface LogChange {
  readonly logRatio: number
  readonly ownRel: number
  readonly dof: number
  readonly common: readonly number[]
}

/** Marks scatter more than stated only beyond this point of chi-square; this project's convention. */
const WIDENING_POINT = 0.99

/** The combined standard uncertainty of a change and its effective degrees of freedom. */
function combined({ ownRel, dof, common }: LogChange): { readonly u: number; readonly dof: number } {
  const shared = Math.hypot(...common)
  const parts = [
    { u: ownRel, dof },
    { u: shared, dof: Infinity },
  ]
  return { u: Math.hypot(ownRel, shared), dof: effectiveDof(parts) }
}

/** Expanded uncertainty of the logarithm, 95 % (JCGM 100:2008, 6.3.3 and G.3). */
export function expandedLog(change: LogChange): number {
  const { u, dof } = combined(change)
  return coverageFactor(dof) * u
}

/** How far the logarithm may lie from nought by chance but once in 1/`chance` times, both sides together. */
export function allowedLog(change: LogChange, chance: number): number {
  const { u, dof } = combined(change)
  return tQuantile(1 - chance / 2, dof) * u
}

/**
 * The mean change of several marks, weighted by what is their own; what they share is added after, by its weighted mean, as it does not average
 * out. Where they scatter beyond the 99 % point of chi-square their own part is widened by Birge's ratio. Needs one change at least.
 */
export function pooledLog(changes: readonly LogChange[]): LogChange {
  const weights = changes.map(({ ownRel }) => 1 / Math.max(ownRel, 1e-9) ** 2)
  const total = sum(weights)
  const mean = (of: (change: LogChange) => number): number =>
    sum(changes.map((change, i) => (weights[i]! / total) * of(change)))
  const logRatio = mean((change) => change.logRatio)
  const chi2 = sum(changes.map((change, i) => weights[i]! * (change.logRatio - logRatio) ** 2))
  const free = changes.length - 1
  const widened = free > 0 && chi2 > chi2Quantile(WIDENING_POINT, free)
  const ownRel = (widened ? Math.sqrt(chi2 / free) : 1) / Math.sqrt(total)
  const parts = changes.map(({ ownRel: u, dof }, i) => ({ u: (weights[i]! / total) * u, dof }))
  return {
    logRatio,
    ownRel,
    dof: widened ? free : effectiveDof(parts),
    common: changes[0]!.common.map((_, draw) => mean((change) => change.common[draw]!)),
  }
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0)
}
