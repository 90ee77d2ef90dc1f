import { dampedDescent, normalStep, type DescentEnd } from '../../math/dampedDescent.js'
import { BLUR_X, BLUR_Y, INK, PAPER } from './chartParameters.js'
import { emptySums, type ChartScene, type NormalSums } from './chartScene.js'

/** Where a descent stands; `damping` and the steps spent go on from one descent to the next. */
export interface ChartDescent {
  readonly parameters: Float64Array
  damping: number
  steps: number
}

/** No blur is taken to be under this, px: the pixel's own aperture is 0.29. */
const LEAST_BLUR_PX = 0.3

/**
 * Walks down the squares until a step moves every corner by less than `settledPx`. `descent` is moved along; `sums` are those of its
 * parameters at the end, and so are the scene's residuals.
 */
export function descendChart(
  scene: ChartScene,
  descent: ChartDescent,
  limits: { readonly settledPx: number; readonly mostSteps: number },
): { readonly end: DescentEnd; readonly sums: NormalSums } {
  let looked = descent.parameters
  const { end, state, seen, damping, steps } = dampedDescent({
    start: descent.parameters.slice(),
    firstDamping: descent.damping,
    mostSteps: limits.mostSteps - descent.steps,
    look: (parameters) => {
      const sums = emptySums()
      scene.look(parameters, sums)
      looked = parameters
      return { ...sums, step: (by: number) => normalStep(sums, by) }
    },
    moved: (from, step) => {
      const moved = from.map((value, i) => value + step[i]!)
      moved[BLUR_X] = Math.max(LEAST_BLUR_PX, moved[BLUR_X]!)
      moved[BLUR_Y] = Math.max(LEAST_BLUR_PX, moved[BLUR_Y]!)
      return admissible(moved) ? moved : null
    },
    isSettled: ({ step, isTaken }) =>
      isTaken && step.subarray(0, 8).every((by) => Math.abs(by) < limits.settledPx),
  })
  descent.parameters.set(state)
  descent.damping = damping
  descent.steps += steps
  if (looked !== state) scene.look(state, emptySums())
  return { end, sums: seen }
}

function admissible(values: Float64Array): boolean {
  return values.every(Number.isFinite) && values[PAPER]! > values[INK]! && values[PAPER]! > 0
}
