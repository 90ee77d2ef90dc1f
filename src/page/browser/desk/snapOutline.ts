import { ROUTES, type PagePick, type SnapAnswer, type SnapRequest } from '../../api.js'
import { postTo } from '../state/callServer.js'
import { setPick } from '../state/changeWalk.js'
import type { PageStore } from '../state/pageStore.js'
import { clicksOf, draftOf, pickOf, referenceOf, stillOf } from '../state/shownPick.js'
import type { ProposedOutline } from './draftOutline.js'
import { proposedOutline } from './shownPoints.js'
import { noteLink } from '../state/takeNews.js'

/** Has the current outline, picked or proposed, fitted to the edges around it; the answer is shown and not taken. */
export async function askSnap(store: PageStore): Promise<void> {
  const still = stillOf(store.state, store.state.current)
  const of = still === null ? null : (pickOf(store.state, still) ?? draftOf(store.state, still))
  const reference = still === null ? undefined : referenceOf(store.state, still)?.name
  if (still === null || still.head === null || of === null || reference === undefined) return
  const { sha256 } = still.head
  const outline = 'clicks' in of ? proposedOutline(store.state) : pickedOutline(of)
  if (outline === null) return
  const sigmas = ('clicks' in of ? of.clicks : clicksOf(of)).map(({ sigmaPx }) => sigmaPx)
  store.put({ snap: { file: still.file, sha256, of, answer: null } })
  const request: SnapRequest = { file: still.file, reference, ...outline, clickSigma: Math.max(...sigmas) }
  const reply = await postTo<SnapAnswer>(ROUTES.snap, request)
  const { snap } = store.state
  // Another still, or a corner moved meanwhile: the answer is to a question nobody asks any more.
  if (snap === null || snap.of !== of || store.state.current !== still.file) return
  if (reply.kind === 'ok') store.put({ snap: { ...snap, answer: reply.value } })
  else {
    store.put({ snap: null })
    noteLink(store, reply)
  }
}

function pickedOutline({ corners }: PagePick): ProposedOutline | null {
  return corners === undefined ? null : { corners, placed: [true, true, true, true] }
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
