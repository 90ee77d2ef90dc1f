/** What was done and can be undone, and what was undone and can be done again. */
export interface ChangeHistory<Change> {
  readonly done: readonly Change[]
  readonly undone: readonly Change[]
}

/** Nothing done yet. */
export const NO_CHANGES = { done: [], undone: [] } as const

/** As many steps are kept. */
const MOST_STEPS = 500

/** With one more change done; what was undone before can no longer be done again. */
export function withChange<Change>(history: ChangeHistory<Change>, change: Change): ChangeHistory<Change> {
  return { done: [...history.done.slice(-MOST_STEPS + 1), change], undone: [] }
}

/** The change to take back, and the history once it is; null where there is none. */
export function stepBack<Change>(
  history: ChangeHistory<Change>,
): { readonly change: Change; readonly history: ChangeHistory<Change> } | null {
  const change = history.done.at(-1)
  if (change === undefined) return null
  return { change, history: { done: history.done.slice(0, -1), undone: [...history.undone, change] } }
}

/** The change to do again, and the history once it is; null where there is none. */
export function stepForward<Change>(
  history: ChangeHistory<Change>,
): { readonly change: Change; readonly history: ChangeHistory<Change> } | null {
  const change = history.undone.at(-1)
  if (change === undefined) return null
  return { change, history: { done: [...history.done, change], undone: history.undone.slice(0, -1) } }
}
