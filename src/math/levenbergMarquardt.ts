import { ProofwalkError } from '../errors.js'
import { dampedDescent } from './dampedDescent.js'
import type { Outcome } from './outcome.js'

/** A least-squares problem: `residuals` writes the (weighted) residuals at `parameters` into `out`. */
export interface LeastSquaresProblem {
  readonly start: readonly number[]
  readonly residualCount: number
  /** Divide each residual by its standard deviation to weight it; the solver itself knows no weights. */
  residuals(parameters: Float64Array, out: Float64Array): void
  /** Writes d residual_i / d parameter_j to `out[i * parameters.length + j]`; by central differences where absent. */
  jacobian?(parameters: Float64Array, out: Float64Array): void
  /** Parameters held at their start. */
  readonly fixed?: readonly boolean[]
  /** Steps tried, accepted or not; default 200. */
  readonly maxIterations?: number
  /** Stop where a step moves every parameter by less than this share of it, or foretells a fall of the sum by less than its square; default 1e-9. */
  readonly tolerance?: number
}

/** A minimum found. */
export interface LeastSquaresFit {
  readonly parameters: readonly number[]
  /** Sum of squared (weighted) residuals. */
  readonly residualSum: number
  /** Residuals less free parameters. */
  readonly dof: number
  /**
   * Inverse of J'J, rows and columns of held parameters zero: the covariance where residuals have unit variance;
   * multiply by residualSum / dof where their scale is unknown.
   */
  readonly covariance: readonly (readonly number[])[]
  readonly iterations: number
}

export type LeastSquaresFailure = 'not-finite' | 'not-determined' | 'not-converged'

/** The first damping, and stronger ones for starts from which a bold first step runs off to where nothing is determined. */
const FIRST_DAMPINGS = [1e-3, 1e2, 1e4]

/**
 * Nonlinear least squares by Levenberg and Marquardt (Marquardt, SIAM J. Appl. Math. 11 (1963) 431). Nothing large is
 * allocated while it iterates, and the start is left as it is.
 * Fails, by name, where the residuals at the start or a derivative are not finite, where the residuals do not determine
 * the parameters, and where it did not converge. Throws where there are fewer residuals than free parameters.
 */
export function levenbergMarquardt(
  problem: LeastSquaresProblem,
): Outcome<LeastSquaresFit, LeastSquaresFailure> {
  const { start, residualCount, fixed } = problem
  const held = fixed?.filter((one) => one).length ?? 0
  if (start.length === 0 || (fixed ?? start).length !== start.length || residualCount < start.length - held) {
    throw new ProofwalkError(
      'bad-argument',
      `${residualCount} residuals, ${start.length} parameters, ${held} of them held`,
    )
  }
  let fit = dampedDescent(problem, FIRST_DAMPINGS[0]!)
  for (const damping of FIRST_DAMPINGS.slice(1)) {
    if (fit.ok || fit.code !== 'not-determined') return fit
    fit = dampedDescent(problem, damping)
  }
  return fit
}
