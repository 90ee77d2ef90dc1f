import { assignSo } from '../state/changeWalk.js'
import type { PageStore } from '../state/pageStore.js'
import { bulkAssignment } from './suggestAssignment.js'

/** Assigns the chosen still as suggested; several are shown first. */
export function takeSuggestions(store: PageStore): void {
  const { walk, chosen } = store.state
  if (walk === null) return
  if (chosen.length > 1) return store.put({ bulk: 'suggested' })
  assignSo(store, bulkAssignment(walk, chosen, 'suggested', null, 1))
}
