/** What is differentiated: residuals of parameters. */
interface Differentiable {
  readonly start: readonly number[]
  readonly residualCount: number
  residuals(parameters: Float64Array, out: Float64Array): void
}

/** Cube root of the double's epsilon: the step, as a share, at which central differences err least. */
const STEP_SHARE = 6.055e-6

/** Least scale of a parameter: one that comes near zero must not be differentiated over a step that rounding swallows. */
const LEAST_SCALE = 1e-3

/**
 * A function that writes the Jacobian by central differences, row by residual, columns of parameters that are not `free` zero.
 * The step is 6e-6 of the parameter's scale: its own size, that of its start, 1e-3, or 1 where it starts at 0, whichever is largest. So
 * parameters are to be measured in units in which 1e-3 is little.
 */
export function centralJacobian(
  problem: Differentiable,
  free: readonly number[],
): (parameters: Float64Array, out: Float64Array) => void {
  const n = problem.start.length
  const m = problem.residualCount
  const moved = new Float64Array(n)
  const above = new Float64Array(m)
  const below = new Float64Array(m)
  return (parameters, out) => {
    for (const j of free) {
      moved.set(parameters)
      const scale = Math.max(Math.abs(parameters[j]!), Math.abs(problem.start[j]!) || 1, LEAST_SCALE)
      moved[j] = parameters[j]! + STEP_SHARE * scale
      const high = moved[j]
      problem.residuals(moved, above)
      moved[j] = parameters[j]! - STEP_SHARE * scale
      const low = moved[j]
      problem.residuals(moved, below)
      for (let i = 0; i < m; i++) out[i * n + j] = (above[i]! - below[i]!) / (high - low)
    }
  }
}
