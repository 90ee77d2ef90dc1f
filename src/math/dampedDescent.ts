import { choleskySolve } from './cholesky.js'
import type { NormalEquations } from './normalEquations.js'

/** A step, and the fall of the sum of squares it foretells. */
export interface DampedStep {
  readonly step: Float64Array
  readonly foretold: number
}

/** What a descent sees at a state: its sum of squares, infinite where there is none, and the equations of Gauss and Newton. */
export interface Look {
  readonly sum: number
  /** Solves them with every unknown's own curvature raised by the share `damping`; null where they do not determine a step. */
  step(damping: number): DampedStep | null
}

/** A sum of squares to be descended. A state is whatever a step can be added to: a list of parameters, a turn and a place. */
export interface Descent<State, Seen extends Look> {
  readonly start: State
  /** Steps tried, at most. */
  readonly mostSteps: number
  readonly firstDamping?: number
  look(state: State): Seen
  /** The state a step leads to; null where there is none such. */
  moved(state: State, step: Float64Array): State | null
  /** Whether a step that was taken from a state, and lowered the sum by so much, moved nothing that counts. */
  isSettled(step: Float64Array, from: State, fall: number): boolean
}

/** `nowhere`: the start has no sum of squares; `not-determined`: no damping made the equations determine a step. */
export type DescentEnd = 'there' | 'out-of-steps' | 'not-determined' | 'nowhere'

/** Where a descent ended, and what was seen there. */
export interface Descended<State, Seen extends Look> {
  readonly end: DescentEnd
  readonly state: State
  readonly seen: Seen
  readonly damping: number
  readonly steps: number
}

export const FIRST_DAMPING = 1e-3
const LEAST_DAMPING = 1e-7
const MOST_DAMPING = 1e16
const EASED = 1 / 5
const TIGHTENED = 10
/**
 * Shares of the sum. A step that foretells a fall under the second is taken on trust, as the sum's own rounding may hide it, and where even so it raises the sum, rounding
 * is all there is; under the first there is nothing left to fall. The third is a share of the first sum, for sums that fall to nothing.
 */
const LOST = 1e-18
const TRUSTED = 1e-12
const NOTHING = 1e-28

/**
 * Walks down a sum of squares by damped steps of Gauss and Newton (D. Marquardt, SIAM J. Appl. Math. 11 (1963) 431): the one descent under every fit, held to the certified
 * values of NIST's nonlinear sets. A step that does not raise the sum is taken and the next one damped a fifth as much; any other is tried again, damped ten times
 * as much. It is there where a step that was taken moved nothing that counts, and where the fall a step foretells is lost in the sum's rounding.
 */
export function dampedDescent<State, Seen extends Look>(
  descent: Descent<State, Seen>,
): Descended<State, Seen> {
  let { start: state, firstDamping: damping = FIRST_DAMPING } = descent
  let seen = descent.look(state)
  let steps = 0
  let end: DescentEnd | null = seen.sum < Infinity ? null : 'nowhere'
  const nothing = NOTHING * seen.sum
  while (end === null && steps < descent.mostSteps) {
    steps += 1
    const next = seen.step(damping)
    const moved = next === null ? null : descent.moved(state, next.step)
    const trial = moved === null ? null : descent.look(moved)
    const foretold = next?.foretold ?? Infinity
    const isTrusted = foretold <= TRUSTED * seen.sum + nothing
    const most = isTrusted ? seen.sum * (1 + TRUSTED) + nothing : seen.sum
    const isTaken = trial !== null && trial.sum <= most
    if (foretold <= (isTaken ? LOST : TRUSTED) * seen.sum + nothing) end = 'there'
    if (isTaken) {
      if (descent.isSettled(next!.step, state, seen.sum - trial.sum)) end = 'there'
      state = moved!
      seen = trial
      damping = Math.max(LEAST_DAMPING, damping * EASED)
    } else if ((damping *= TIGHTENED) > MOST_DAMPING) end ??= next === null ? 'not-determined' : 'there'
  }
  return { end: end ?? 'out-of-steps', state, seen, damping, steps }
}

/** A look whose equations are set up where a step is asked for, and once. Null: there are none. */
export interface LazyLook extends Look {
  equations(): NormalEquations | null
}

/** The look of a sum and of what sets up its equations. `greatest`: see {@link normalStep}. */
export function lazyLook(
  sum: number,
  setUp: () => NormalEquations | null,
  greatest: Float64Array | null = null,
): LazyLook {
  let known: NormalEquations | null | undefined
  const equations = (): NormalEquations | null => (known === undefined ? (known = setUp()) : known)
  return {
    sum,
    equations,
    step: (damping) => {
      const found = equations()
      return found === null ? null : normalStep(found, damping, greatest)
    },
  }
}

/**
 * The damped step of normal equations. An unknown is damped by its own curvature; with `greatest`, for starts from afar, from where a step may run off to where
 * nothing is curved, by the greatest it met so far, which is kept there (J. More, Lecture Notes in Mathematics 630 (1978) 105).
 */
export function normalStep(
  { matrix, right }: NormalEquations,
  damping: number,
  greatest: Float64Array | null = null,
): DampedStep | null {
  const k = right.length
  const damped = matrix.slice()
  const added = new Float64Array(k)
  for (let a = 0; a < k; a += 1) {
    let curvature = matrix[a * k + a]!
    if (greatest !== null) curvature = greatest[a] = Math.max(greatest[a]!, curvature)
    added[a] = damping * curvature
    damped[a * k + a]! += added[a]!
  }
  const step = new Float64Array(k)
  if (!choleskySolve(damped, right, step)) return null
  let foretold = 0
  for (let a = 0; a < k; a += 1) foretold += step[a]! * (right[a]! + added[a]! * step[a]!)
  return { step, foretold }
}
