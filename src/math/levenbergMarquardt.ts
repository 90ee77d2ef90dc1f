import { centralJacobian } from './centralJacobian.js'
import { choleskyInverse } from './cholesky.js'
import { dampedDescent, FIRST_DAMPING, lazyLook, type LazyLook } from './dampedDescent.js'
import { normalEquations, scatterFree, squareSum, type NormalEquations } from './normalEquations.js'
import { failure, success, type Outcome } from './outcome.js'
import { fault } from '../sentences.js'
import { mathSays } from './sentences.js'

/** The first damping, and stronger ones for starts from which a bold first step runs off to where nothing is determined. */
const FIRST_DAMPINGS = [FIRST_DAMPING, 1e2, 1e4]
/** Below this share of the greatest curvature it ever had, a parameter counts as having lost its hold on the residuals. */
const LOST_SHARE = 1e-24

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
  /** Steps taken, at most; default 200. */
  readonly maxIterations?: number
  /** It is there where a step moves every parameter by less than this share of it; default 1e-9. */
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

/**
 * Nonlinear least squares by the one damped descent; the start is left as it is.
 * Fails, by name, where the residuals at the start or a derivative are not finite, where the residuals do not determine
 * the parameters, and where it did not converge.
 * @throws ProofwalkError `bad-argument` where there are fewer residuals than free parameters.
 */
export function levenbergMarquardt(
  problem: LeastSquaresProblem,
): Outcome<LeastSquaresFit, LeastSquaresFailure> {
  const { start, residualCount, fixed } = problem
  const held = fixed?.filter((one) => one).length ?? 0
  if (start.length === 0 || (fixed ?? start).length !== start.length || residualCount < start.length - held) {
    throw fault(mathSays['too-few-residuals'](residualCount, start.length, held))
  }
  let fit = descended(problem, FIRST_DAMPINGS[0]!)
  for (const damping of FIRST_DAMPINGS.slice(1)) {
    if (fit.ok || fit.code !== 'not-determined') return fit
    fit = descended(problem, damping)
  }
  return fit
}

function descended(
  problem: LeastSquaresProblem,
  firstDamping: number,
): Outcome<LeastSquaresFit, LeastSquaresFailure> {
  const { residualCount: m, maxIterations = 200, tolerance = 1e-9 } = problem
  const n = problem.start.length
  const free = [...problem.start.keys()].filter((j) => problem.fixed?.[j] !== true)
  const k = free.length
  const jacobian = new Float64Array(m * n)
  const differentiate = problem.jacobian?.bind(problem) ?? centralJacobian(problem, free)
  const greatest = new Float64Array(k)
  const look = (parameters: Float64Array): LazyLook => {
    const residuals = new Float64Array(m)
    problem.residuals(parameters, residuals)
    const sum = squareSum(residuals)
    const equations = (): NormalEquations | null => {
      differentiate(parameters, jacobian)
      return normalEquations(jacobian, residuals, free, n)
    }
    return lazyLook(Number.isFinite(sum) ? sum : Infinity, equations, greatest)
  }
  const start = Float64Array.from(problem.start)
  const { end, state, seen, steps } = dampedDescent({
    start,
    firstDamping,
    steeredTo: 1 / 3,
    mostSteps: maxIterations,
    look,
    moved: (from, step) => {
      const moved = from.slice()
      for (let a = 0; a < k; a += 1) moved[free[a]!]! += step[a]!
      return moved
    },
    isSettled: ({ step, from, sum, foretold }) =>
      foretold <= tolerance ** 2 * sum ||
      step.every((by, a) => Math.abs(by) <= tolerance * (Math.abs(from[free[a]!]!) + 1e-300)),
  })
  if (end === 'nowhere') return failure(mathSays['start-not-finite']())
  const normal = seen.equations()?.matrix
  if (normal === undefined) return failure(mathSays['slopes-not-finite']())
  if (end === 'out-of-steps') return failure(mathSays['not-converged'](maxIterations))
  const isLost = greatest.some((most, a) => !(normal[a * k + a]! > LOST_SHARE * most))
  const inverse = end === 'there' && !isLost ? choleskyInverse(normal, k) : null
  if (inverse === null) return failure(mathSays['not-determined']())
  return success({
    parameters: [...state],
    residualSum: seen.sum,
    dof: m - k,
    covariance: scatterFree(inverse, free, n),
    iterations: steps,
  })
}
