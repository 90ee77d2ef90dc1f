import { choleskySolve } from '../../math/cholesky.js'
import { BLUR_X, BLUR_Y, INK, MODEL_PARAMETERS, PAPER } from './chartParameters.js'
import { emptySums, type ChartScene, type NormalSums } from './chartScene.js'

/** Where a descent stands; `damping` and the steps spent go on from one descent to the next. */
export interface Descent {
  readonly parameters: Float64Array
  damping: number
  steps: number
}

export type DescentEnd = 'there' | 'out-of-steps' | 'not-determined'

/** No blur is taken to be under this, px: the pixel's own aperture is 0.29. */
const LEAST_BLUR_PX = 0.3
/** A step that does not help is shortened so many times. */
const ATTEMPTS = 8

/**
 * Walks down the squares over the scene's first `count` pixels by Levenberg and Marquardt (Marquardt, SIAM J. Appl. Math. 11 (1963) 431) until
 * a step moves every corner by less than `settledPx`. `descent` is moved along; `sums`, if given, are those of its parameters at the end.
 */
export function descendChart(
  scene: ChartScene,
  descent: Descent,
  count: number,
  limits: { readonly settledPx: number; readonly mostSteps: number },
): { readonly end: DescentEnd; readonly sums: NormalSums } {
  const p = MODEL_PARAMETERS
  let sums = emptySums()
  let trialSums = emptySums()
  const damped = new Float64Array(p * p)
  const step = new Float64Array(p)
  scene.look(descent.parameters, count, sums)
  while (descent.steps < limits.mostSteps) {
    descent.steps += 1
    let moved = -1
    for (let attempt = 0; attempt < ATTEMPTS && moved < 0; attempt += 1) {
      damped.set(sums.matrix)
      for (let i = 0; i < p; i += 1) damped[i * p + i]! *= 1 + descent.damping
      if (!choleskySolve(damped, sums.right, step)) return { end: 'not-determined', sums }
      const trial = descent.parameters.map((value, i) => value + step[i]!)
      trial[BLUR_X] = Math.max(LEAST_BLUR_PX, trial[BLUR_X]!)
      trial[BLUR_Y] = Math.max(LEAST_BLUR_PX, trial[BLUR_Y]!)
      if (admissible(trial)) {
        scene.look(trial, count, trialSums)
        if (trialSums.sum <= sums.sum) {
          descent.parameters.set(trial)
          ;[sums, trialSums] = [trialSums, sums]
          moved = 0
          for (let k = 0; k < 8; k += 1) moved = Math.max(moved, Math.abs(step[k]!))
          descent.damping = Math.max(1e-7, descent.damping / 5)
          continue
        }
      }
      descent.damping *= 8
    }
    // Where no step helps any more, rounding hides what is left to fall.
    if (moved < limits.settledPx) {
      if (moved < 0) scene.look(descent.parameters, count, sums)
      return { end: 'there', sums }
    }
  }
  return { end: 'out-of-steps', sums }
}

function admissible(values: Float64Array): boolean {
  return values.every(Number.isFinite) && values[PAPER]! > values[INK]! && values[PAPER]! > 0
}
