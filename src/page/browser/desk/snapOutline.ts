import { ROUTES, type SnapAnswer, type SnapRequest } from '../../api.js'
import { postTo } from '../state/callServer.js'
import { setPick } from '../state/changeWalk.js'
import type { PageStore } from '../state/pageStore.js'
import { pickOf, referenceOf, stillOf } from '../state/shownPick.js'
import { noteLink } from '../state/takeNews.js'

/** Has the current outline fitted to the edges around it; the answer is shown and not taken. */
export async function askSnap(store: PageStore): Promise<void> {
  const still = stillOf(store.state, store.state.current)
  const pick = still === null ? null : pickOf(store.state, still)
  if (still === null || pick?.corners === undefined) return
  const reference = pick.reference ?? referenceOf(store.state, still)?.name
  if (reference === undefined) return
  store.put({ snap: { file: still.file, of: pick, answer: null } })
  const request: SnapRequest = { file: still.file, reference, corners: pick.corners }
  const reply = await postTo<SnapAnswer>(ROUTES.snap, request)
  const { snap } = store.state
  // Another still, or a corner moved meanwhile: the answer is to a question nobody asks any more.
  if (snap === null || snap.of !== pick || store.state.current !== still.file) return
  if (reply.kind === 'ok') store.put({ snap: { ...snap, answer: reply.value } })
  else {
    store.put({ snap: null })
    noteLink(store, reply)
  }
}

/** Takes the outline that is shown; false where there is none. */
export function takeSnap(store: PageStore): boolean {
  const { snap, current } = store.state
  if (snap === null || snap.file !== current || snap.answer?.ok !== true) return false
  setPick(store, snap.file, snap.answer.pick)
  store.put({ snap: null, point: null })
  return true
}

/** Leaves the outline as the hand has it. */
export function dropSnap(store: PageStore): void {
  store.put({ snap: null })
}
