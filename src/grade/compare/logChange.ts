import { choleskyInverse } from '../../math/cholesky.js'
import { coverageFactor, chi2Quantile, tQuantile } from '../../math/quantiles.js'
import { effectiveDof } from '../../math/effectiveDof.js'
import { fault } from '../../sentences.js'
import { gradeSays } from '../sentences.js'

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
 * The mean change of several marks by generalised least squares: what they share weighs on each as it loads it, so that a tape that begins elsewhere, which moves near
 * marks most, hardly moves the mean. Where they scatter beyond the 99 % point of chi-square their own part is widened by Birge's ratio. Needs one change at least.
 * @throws `ProofwalkError` `bad-argument` where a change is not finite
 */
export function pooledLog(changes: readonly LogChange[]): LogChange {
  const n = changes.length
  const inverse = choleskyInverse(covarianceOf(changes), n)
  if (inverse === null) throw fault(gradeSays['mark-not-finite']())
  const weighed = (values: readonly number[]): number[] =>
    values.map((_, i) => sum(values.map((value, j) => inverse[i * n + j]! * value)))
  const ones = weighed(changes.map(() => 1))
  const weights = ones.map((each) => each / sum(ones))
  const mean = (of: (change: LogChange) => number): number =>
    sum(changes.map((change, i) => weights[i]! * of(change)))
  const logRatio = mean((change) => change.logRatio)
  const residuals = changes.map((change) => change.logRatio - logRatio)
  const chi2 = sum(weighed(residuals).map((each, i) => each * residuals[i]!))
  const free = n - 1
  const widened = free > 0 && chi2 > chi2Quantile(WIDENING_POINT, free)
  const parts = changes.map(({ ownRel, dof }, i) => ({ u: Math.abs(weights[i]!) * ownRel, dof }))
  return {
    logRatio,
    ownRel: (widened ? Math.sqrt(chi2 / free) : 1) * Math.hypot(...parts.map(({ u }) => u)),
    dof: widened ? free : effectiveDof(parts),
    common: changes[0]!.common.map((_, draw) => mean((change) => change.common[draw]!)),
  }
}

// A change without any uncertainty of its own would leave no number for the others. This project's convention.
const LEAST_REL = 1e-6

/**
 * Covariance of the logarithms, row by row: each change's own, and every draw, where two share them. Without `shares` all do.
 */
export function covarianceOf(
  changes: readonly LogChange[],
  shares: (one: number, other: number) => boolean = () => true,
): Float64Array {
  return Float64Array.from(
    changes.flatMap((one, i) =>
      changes.map((other, j) => {
        const common = shares(i, j) ? one.common.map((load, draw) => load * other.common[draw]!) : []
        return sum(common) + (i === j ? Math.max(LEAST_REL, one.ownRel) ** 2 : 0)
      }),
    ),
  )
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0)
}
