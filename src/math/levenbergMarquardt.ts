import {
  type LeastSquaresProblem,
  type LeastSquaresFit,
  type LeastSquaresFailure,
  dampedDescent,
} from './dampedDescent.js'
import type { Outcome } from './outcome.js'
import { fault } from '../sentences.js'
import { mathSays } from './sentences.js'

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
    throw fault(mathSays['too-few-residuals'](residualCount, start.length, held))
  }
  let fit = dampedDescent(problem, FIRST_DAMPINGS[0]!)
  for (const damping of FIRST_DAMPINGS.slice(1)) {
    if (fit.ok || fit.code !== 'not-determined') return fit
    fit = dampedDescent(problem, damping)
  }
  return fit
}
