import { centralJacobian } from './centralJacobian.js'
import { choleskyInverse, choleskySolve } from './cholesky.js'
import { assembleNormal, scatterFree, squareSum } from './normalEquations.js'
import { failure, success, type Outcome } from './outcome.js'
import { mathSays } from './sentences.js'

/** Below this share of the greatest curvature it ever had, a parameter counts as having lost its hold on the residuals. */
const LOST_SHARE = 1e-24

/**
 * One descent of `levenbergMarquardt` from its start, damped by `firstDamping` at first. Each parameter's damping is scaled by the greatest
 * curvature met so far (More, Lecture Notes in Mathematics 630 (1978) 105) and steered by the ratio of the fall
 * got to the fall foretold (Nielsen 1999, IMM-REP-1999-05).
 */
export function dampedDescent(
  problem: LeastSquaresProblem,
  firstDamping: number,
): Outcome<LeastSquaresFit, LeastSquaresFailure> {
  const { residualCount: m, maxIterations = 200, tolerance = 1e-9 } = problem
  const n = problem.start.length
  const free = [...problem.start.keys()].filter((j) => problem.fixed?.[j] !== true)
  const k = free.length
  let parameters = Float64Array.from(problem.start)
  let trial = Float64Array.from(problem.start)
  let residuals = new Float64Array(m)
  let trialResiduals = new Float64Array(m)
  const jacobian = new Float64Array(m * n)
  const differentiate = problem.jacobian?.bind(problem) ?? centralJacobian(problem, free)
  const normal = new Float64Array(k * k)
  const damped = new Float64Array(k * k)
  const scale = new Float64Array(k)
  const gradient = new Float64Array(k)
  const step = new Float64Array(k)

  problem.residuals(parameters, residuals)
  let sum = squareSum(residuals)
  if (!Number.isFinite(sum)) return failure(mathSays['start-not-finite']())
  const negligible = 1e-28 * sum
  let damping = firstDamping
  let growth = 2
  let moved = true
  for (let iteration = 1; iteration <= maxIterations && damping < 1e60; iteration++) {
    if (moved) {
      differentiate(parameters, jacobian)
      if (!assembleNormal(jacobian, residuals, free, n, normal, gradient)) {
        return failure(mathSays['slopes-not-finite']())
      }
      for (let a = 0; a < k; a++) scale[a] = Math.max(scale[a]!, normal[a * k + a]!)
      moved = false
    }
    damped.set(normal)
    for (let a = 0; a < k; a++) damped[a * k + a] = normal[a * k + a]! + damping * scale[a]!
    if (!choleskySolve(damped, gradient, step)) return notDetermined()
    let foretold = 0
    let share = 0
    trial.set(parameters)
    for (let a = 0; a < k; a++) {
      const j = free[a]!
      trial[j] = parameters[j]! - step[a]!
      foretold += step[a]! * (damping * scale[a]! * step[a]! + gradient[a]!)
      share = Math.max(share, Math.abs(step[a]!) / (Math.abs(parameters[j]!) + 1e-300))
    }
    problem.residuals(trial, trialResiduals)
    const trialSum = squareSum(trialResiduals)
    const settled = share <= tolerance || foretold <= tolerance * tolerance * sum + negligible
    // So near the minimum the sum's own rounding hides its fall: a step foretold that small is taken on trust.
    const trusted = foretold <= 1e-12 * sum + negligible && trialSum <= sum * (1 + 1e-12) + negligible
    if (trialSum < sum || trusted) {
      const ratio = foretold > 0 ? (sum - trialSum) / foretold : 1
      ;[parameters, trial] = [trial, parameters]
      ;[residuals, trialResiduals] = [trialResiduals, residuals]
      sum = trialSum
      moved = true
      damping *= trusted ? 1 / 3 : Math.max(1 / 3, 1 - (2 * Math.min(ratio, 1) - 1) ** 3)
      growth = 2
    } else {
      damping *= growth
      growth *= 2
    }
    if (!settled) continue
    differentiate(parameters, jacobian)
    if (!assembleNormal(jacobian, residuals, free, n, normal, gradient)) return notDetermined()
    for (let a = 0; a < k; a++) if (!(normal[a * k + a]! > LOST_SHARE * scale[a]!)) return notDetermined()
    const inverse = choleskyInverse(normal, k)
    if (inverse === null) return notDetermined()
    const covariance = scatterFree(inverse, free, n)
    return success({
      parameters: [...parameters],
      residualSum: sum,
      dof: m - k,
      covariance,
      iterations: iteration,
    })
  }
  return failure(mathSays['not-converged'](maxIterations))
}

function notDetermined(): Outcome<never, LeastSquaresFailure> {
  return failure(mathSays['not-determined']())
}

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
