import { isSameMark } from '../read/sameMark.js'
import type { Walk } from '../read/walk.js'
import type { PlannedMark, PlannedPromise } from './planWalk.js'

/** A still to be taken: the how manieth, in which light, at which mark, and the promises it is taken for. */
export interface PlannedStill {
  readonly number: number
  readonly light: string
  /** Null for the one taken while walking. */
  readonly mark: PlannedMark | null
  readonly promises: readonly PlannedPromise[]
}

/** The stills of a walk in the order they are taken: one light after the other, in each from the nearest mark to the farthest, then one while walking. */
export function stillsToTake(
  { lights }: Pick<Walk, 'lights'>,
  {
    marks,
    promises,
  }: { readonly marks: readonly PlannedMark[]; readonly promises: readonly PlannedPromise[] },
): PlannedStill[] {
  return lights.flatMap((light, index) =>
    [...marks, null].map((mark, at) => ({
      number: index * (marks.length + 1) + at + 1,
      light,
      mark,
      promises: promises.filter(
        ({ promise }) =>
          mark !== null && promise.light === light && isSameMark(promise.distanceM, mark.distanceM),
      ),
    })),
  )
}

/** The number of the still that a promise is shown by; null for one that must not see more, where no mark stands there. */
export function stillOf(promise: PlannedPromise, stills: readonly PlannedStill[]): number | null {
  return stills.find(({ promises }) => promises.includes(promise))?.number ?? null
}
