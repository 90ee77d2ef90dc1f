import type { GivenAnswer } from '../schemas/readingsSchema.js'

/** What a reading trial is read from and kept in: a walk's folder, or a file it was packed into. */
export interface TrialSource {
  readonly seed: number
  /** Pictures by their id, each with how many characters it has. */
  readonly crops: ReadonlyMap<string, { readonly letters: number; readonly png: Uint8Array }>
  /** What was answered so far, practice left out. */
  answers(): readonly GivenAnswer[]
  /** Keeps an answer; `shown` is what a practice crop says, null for all others. Throws what writing throws. */
  keep(answer: GivenAnswer, shown: string | null): Promise<void>
}

/** Whether two answers are to the same showing. */
export function isSameShowing(one: GivenAnswer, other: GivenAnswer): boolean {
  return one.reader === other.reader && one.crop === other.crop && one.again === other.again
}
