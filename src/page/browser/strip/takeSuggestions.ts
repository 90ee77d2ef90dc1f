import { assign } from '../state/changeWalk.js'
import type { PageStore } from '../state/pageStore.js'
import { stillOf } from '../state/shownPick.js'
import { suggestAssignments } from './suggestAssignment.js'

/** Assigns the chosen stills as suggested. */
export function takeSuggestions(store: PageStore): void {
  const { walk, chosen } = store.state
  if (walk === null) return
  assign(
    store,
    suggestAssignments(walk, chosen).map(({ file, mark, light }) => ({
      file,
      to: { mark, light, reference: stillOf(store.state, file)?.entry?.reference ?? null },
    })),
  )
}
