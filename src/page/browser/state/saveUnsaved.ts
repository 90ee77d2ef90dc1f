import { problem } from '../../../sentences.js'
import { HAND_SIGMA_PX } from '../../../measure/reference/pick.js'
import {
  ROUTES,
  type AssignRequest,
  type PickRequest,
  type PickView,
  type Refusal,
  type Saved,
  type StillView,
} from '../../api.js'
import { postTo, type Reply } from './callServer.js'
import { keepSaved } from './keepUnsaved.js'
import type { PageState, Unsaved, UnsavedAssignment, UnsavedPick } from './pageState.js'
import type { PageStore } from './pageStore.js'
import { bare, isSameReference, stillOf } from './shownPick.js'
import { noteLink, readWalk, takeStills } from './takeNews.js'
import { pageSays } from '../../sentences.js'

/** After so long a server that did not answer is asked again, ms. */
const AGAIN_MS = 1500

const running = new WeakSet<PageStore>()

/**
 * Hands the server what it does not hold yet, one change after another, until nothing is left that does not wait for a word of the
 * person. Where the server does not answer, the changes stay and are tried again.
 */
export async function saveUnsaved(store: PageStore): Promise<void> {
  if (running.has(store)) return
  running.add(store)
  try {
    for (;;) {
      const next = store.state.unsaved.find(({ held }) => held === null)
      if (next === undefined) break
      store.put({ saving: true })
      const reply = next.kind === 'pick' ? await sendPick(store, next) : await sendAssignment(next)
      if (reply.kind === 'unreachable' || reply.kind === 'shut-out') {
        noteLink(store, reply)
        await new Promise((resolve) => setTimeout(resolve, AGAIN_MS))
      } else {
        settle(store, next, reply)
        await keepSaved(store)
      }
    }
  } finally {
    running.delete(store)
    store.put({ saving: false })
  }
}

async function sendPick(store: PageStore, change: UnsavedPick): Promise<Reply<Saved>> {
  const sha256 = change.sha256 ?? stillOf(store.state, change.file)?.head?.sha256
  if (sha256 === undefined)
    return { kind: 'refused', refusal: { ...problem(pageSays['no-head']()), file: change.file } }
  const body: PickRequest = {
    file: change.file,
    was: change.was,
    sha256,
    pick: change.pick === null ? null : bare(change.pick),
  }
  return postTo<Saved>(ROUTES.pick, body)
}

function sendAssignment(change: UnsavedAssignment): Promise<Reply<Saved>> {
  const body: AssignRequest = {
    changes: change.stills.map(({ file, to, was }) => ({ file, was, ...to })),
    addLights: change.addLights,
  }
  return postTo<Saved>(ROUTES.assign, body)
}

function settle(store: PageStore, sent: Unsaved, reply: Reply<Saved>): void {
  if (reply.kind === 'ok') {
    takeStills(store, reply.value.stills, reply.value.revision)
    store.put({ link: 'up', unsaved: withoutSaved(store.state, sent, reply.value) })
    // New marks and lights stand in the walk, not in its stills.
    if (sent.kind === 'assign') void readWalk(store)
  } else if (reply.kind === 'conflict') {
    takeStills(store, reply.conflict.stills, reply.conflict.revision)
    const saved = reply.conflict
    if (isThere(store.state, sent, saved.stills))
      return store.put({ unsaved: withoutSaved(store.state, sent, saved) })
    hold(store, sent, 'conflict', reply.conflict.message, reply.conflict.stills)
  } else if (reply.kind === 'refused') hold(store, sent, 'refused', refusalWords(sent, reply.refusal), [])
}

/** Whether the others have it just so: it was saved, and the answer did not come, or two hands did the same. */
function isThere(state: PageState, sent: Unsaved, theirs: readonly StillView[]): boolean {
  const of = (file: string) => theirs.find((still) => still.file === file)
  if (sent.kind === 'pick') {
    const there = savedPick(state, of(sent.file), sent.pick?.reference ?? sent.reference) ?? null
    const mine = sent.pick === null ? null : bare({ ...sent.pick, sigma: sent.pick.sigma ?? HAND_SIGMA_PX })
    return JSON.stringify(there === null ? null : bare(there)) === JSON.stringify(mine)
  }
  return sent.stills.every(({ file, to }) => {
    const there = of(file)?.entry ?? null
    return there?.mark === to.mark && there.light === to.light && there.reference === to.reference
  })
}

/** The reason, with the still it is about where it was sent among several. */
function refusalWords(sent: Unsaved, { file, message }: Refusal): string {
  return sent.kind === 'assign' && sent.stills.length > 1 && file !== undefined
    ? `${file}: ${message}`
    : message
}

/** What was changed again while it was sent stays, on top of what is saved now. */
function withoutSaved(state: PageState, sent: Unsaved, saved: Pick<Saved, 'stills'>): readonly Unsaved[] {
  return state.unsaved.flatMap((change): Unsaved[] => {
    if (change === sent) return []
    const savedOf = (file: string): StillView | undefined => saved.stills.find((one) => one.file === file)
    if (sent.kind === 'pick' && isSamePick(change, sent)) {
      const { reference } = sent.pick ?? sent
      const was = savedPick(state, savedOf(change.file), reference)?.version ?? null
      return [{ ...change, reference, was }]
    }
    if (sent.kind === 'assign' && change.kind === 'assign') {
      const stills = change.stills.map((one) => {
        const still = savedOf(one.file)
        return still === undefined ? one : { ...one, was: still.entry?.version ?? null }
      })
      return [{ ...change, stills }]
    }
    return [change]
  })
}

function hold(
  store: PageStore,
  sent: Unsaved,
  why: 'conflict' | 'refused',
  message: string,
  theirs: UnsavedTheirs,
): void {
  store.put({
    unsaved: store.state.unsaved.map((change) =>
      change === sent || isSamePick(change, sent) ? { ...change, held: { why, message, theirs } } : change,
    ),
  })
}

type UnsavedTheirs = NonNullable<Unsaved['held']>['theirs']

/** Whether two changes are of one pick. */
function isSamePick(a: Unsaved, b: Unsaved): a is UnsavedPick {
  return a.kind === 'pick' && b.kind === 'pick' && a.file === b.file && a.reference === b.reference
}

/** The pick of a reference that the server has on a still. */
function savedPick(
  state: PageState,
  still: StillView | null | undefined,
  reference: string | null,
): PickView | undefined {
  return still?.picks.find((pick) => isSameReference(state, pick.reference, reference))
}

/** Version of the pick of a reference that the server has on a still; null where there is none. */
export function pickVersion(state: PageState, file: string, reference: string | null): string | null {
  return savedPick(state, stillOf(state, file), reference)?.version ?? null
}

/** The person keeps what they did: it is saved over what there is now. */
export function keepMine(store: PageStore, kept: Unsaved): void {
  store.put({
    unsaved: store.state.unsaved.map((change): Unsaved => {
      if (change !== kept) return change
      if (change.kind === 'pick') {
        const was = pickVersion(store.state, change.file, change.reference)
        return { ...change, was, held: null }
      }
      const stills = change.stills.map((one) => ({
        ...one,
        was: stillOf(store.state, one.file)?.entry?.version ?? null,
      }))
      return { ...change, stills, held: null }
    }),
  })
  void saveUnsaved(store)
}

/** The person takes what there is now: what they did is put away; it can still be reached by undo. */
export function takeTheirs(store: PageStore, left: Unsaved): void {
  store.put({ unsaved: store.state.unsaved.filter((change) => change !== left), snap: null, moving: null })
}
