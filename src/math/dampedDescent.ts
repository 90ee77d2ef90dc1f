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
  /** A foretold fall under this is none: the step is not tried. */
  readonly leastFall?: number
  /** Where given, the damping is steered by the fall got over the fall foretold, and eased by one step to this share at most; else by fixed shares. */
  readonly steeredTo?: number
  /** Whether a step moves nothing that counts. */
  isSettled(tried: TriedStep<State>): boolean
}

/** A step from a state: the sum there, the fall it foretold and the one it brought (NaN: nothing was seen there), and whether it was taken. */
interface TriedStep<State> {
  readonly step: Float64Array
  readonly from: State
  readonly sum: number
  readonly foretold: number
  readonly fall: number
  readonly isTaken: boolean
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
const MOST_DAMPING = 1e16
const LEAST_DAMPING = 1e-7
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
 * values of NIST's nonlinear sets. A step that lowers the sum is taken and the next one damped less, any other is tried again, damped more. It is there where a step
 * moves nothing that counts, and where the fall a step foretells is lost in the sum's rounding.
 */
export function dampedDescent<State, Seen extends Look>(
  descent: Descent<State, Seen>,
): Descended<State, Seen> {
  let { start: state, firstDamping: damping = FIRST_DAMPING } = descent
  const { leastFall = 0, steeredTo } = descent
  let seen = descent.look(state)
  let growth = 2
  let steps = 0
  let end: DescentEnd | null = seen.sum < Infinity ? null : 'nowhere'
  const nothing = NOTHING * seen.sum
  while (end === null && steps < descent.mostSteps) {
    steps += 1
    const next = seen.step(damping)
    const foretold = next?.foretold ?? Infinity
    if (foretold < leastFall) return { end: 'there', state, seen, damping, steps }
    const moved = next === null ? null : descent.moved(state, next.step)
    const trial = moved === null ? null : descent.look(moved)
    const isTrusted = foretold <= TRUSTED * seen.sum + nothing
    const most = isTrusted ? seen.sum * (1 + TRUSTED) + nothing : seen.sum
    const isTaken = trial !== null && trial.sum <= most
    const { sum } = seen
    const fall = sum - (trial?.sum ?? NaN)
    const tried = next === null ? null : { step: next.step, from: state, sum, foretold, fall, isTaken }
    if (tried !== null && descent.isSettled(tried)) end = 'there'
    if (foretold <= (isTaken ? LOST : TRUSTED) * seen.sum + nothing) end = 'there'
    if (isTaken) {
      damping =
        steeredTo === undefined
          ? Math.max(LEAST_DAMPING, damping * EASED)
          : damping * steered(isTrusted ? 1 : fall / foretold, steeredTo)
      growth = 2
      state = moved!
      seen = trial
    } else {
      damping *= steeredTo === undefined ? TIGHTENED : growth
      growth *= 2
      if (damping > MOST_DAMPING) end ??= next === null ? 'not-determined' : 'there'
    }
  }
  return { end: end ?? 'out-of-steps', state, seen, damping, steps }
}

/** The share by which damping follows a step that brought so much of the fall it foretold (H. B. Nielsen, IMM-REP-1999-05, Technical University of Denmark). */
function steered(ratio: number, least: number): number {
  return Math.max(least, 1 - cubed(2 * Math.min(ratio, 1) - 1))
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

const cubed = (value: number): number => value * value * value
