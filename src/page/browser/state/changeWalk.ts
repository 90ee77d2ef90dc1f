import type { PagePick } from '../../api.js'
import { stepBack, stepForward, withChange } from './changeHistory.js'
import type { Assignment, Change, Draft, PageState, Unsaved } from './pageState.js'
import type { PageStore } from './pageStore.js'
import { saveUnsaved } from './saveUnsaved.js'
import { pickOf, stillOf } from './shownPick.js'

/** Gives a still a pick, or takes it away: shown at once, saved at once, can be undone. */
export function setPick(store: PageStore, file: string, pick: PagePick | null): void {
  const still = stillOf(store.state, file)
  if (still === null) return
  const before = pickOf(store.state, still)
  store.put({ history: withChange(store.state.history, { kind: 'pick', file, before, after: pick }) })
  enterPick(store, file, pick)
}

/** Gives stills a mark, a light and a reference: saved at once, can be undone. */
export function assign(
  store: PageStore,
  wanted: readonly { readonly file: string; readonly to: Assignment }[],
): void {
  const stills = wanted.flatMap(({ file, to }) => {
    const still = stillOf(store.state, file)
    return still === null ? [] : [{ file, before: assignmentOf(still.entry), after: to }]
  })
  if (stills.length === 0) return
  const files = new Set(stills.map(({ file }) => file))
  store.put({
    history: withChange(store.state.history, { kind: 'assign', stills }),
    // What a person assigns is no longer the machine's.
    assignedSo: store.state.assignedSo.filter(({ file }) => !files.has(file)),
  })
  enterAssignment(
    store,
    stills.map(({ file, after }) => ({ file, to: after })),
  )
}

/** What is begun on a still and no pick yet; null: nothing. */
export function setDraft(store: PageStore, file: string, draft: Draft | null): void {
  const { drafts } = store.state
  store.put({
    drafts: draft === null ? without(drafts, file) : new Map(drafts).set(file, draft),
    moving: null,
    point: null,
    snap: null,
  })
}

/** Takes the last point of a still back that is no pick yet; false where there is none. */
export function takeBackClick(store: PageStore): boolean {
  const { current, drafts } = store.state
  const draft = current === null ? undefined : drafts.get(current)
  if (current === null || draft === undefined || draft.clicks.length === 0) return false
  setDraft(store, current, { ...draft, clicks: draft.clicks.slice(0, -1) })
  return true
}

function without<Key, Value>(map: ReadonlyMap<Key, Value>, key: Key): ReadonlyMap<Key, Value> {
  return new Map([...map].filter(([one]) => one !== key))
}

/** Assigns what the machine proposed and a person saw: marked as such. */
export function assignSo(
  store: PageStore,
  wanted: readonly { readonly file: string; readonly to: Assignment }[],
): void {
  const before = wanted.map(({ file }) => ({
    file,
    before: assignmentOf(stillOf(store.state, file)?.entry ?? null),
  }))
  assign(store, wanted)
  store.put({ assignedSo: before })
}

/** Takes back what was assigned so, all of it at once. */
export function takeBackSo(store: PageStore): void {
  assign(
    store,
    store.state.assignedSo.map(({ file, before }) => ({ file, to: before })),
  )
}

/** Takes the last change back, and shows the still it was made on; a point placed on the still at hand before all else. */
export function undo(store: PageStore): void {
  if (takeBackClick(store)) return
  const step = stepBack(store.state.history)
  if (step === null) return
  store.put({ history: step.history })
  apply(store, step.change, 'before')
}

/** Does again what was undone last. */
export function redo(store: PageStore): void {
  const step = stepForward(store.state.history)
  if (step === null) return
  store.put({ history: step.history })
  apply(store, step.change, 'after')
}

/** What walk.yaml says of a still, as an assignment. */
function assignmentOf(entry: Assignment | null): Assignment {
  return {
    mark: entry?.mark ?? null,
    light: entry?.light ?? null,
    reference: entry?.reference ?? null,
  }
}

function apply(store: PageStore, change: Change, side: 'before' | 'after'): void {
  if (change.kind === 'pick') {
    if (store.state.current !== change.file) store.put({ current: change.file, chosen: [change.file] })
    enterPick(store, change.file, change[side])
  } else undoAssignment(store, change, side)
}

function undoAssignment(
  store: PageStore,
  { stills }: Extract<Change, { kind: 'assign' }>,
  side: 'before' | 'after',
): void {
  const files = new Set(stills.map(({ file }) => file))
  store.put({ assignedSo: store.state.assignedSo.filter(({ file }) => !files.has(file)) })
  enterAssignment(
    store,
    stills.map((one) => ({ file: one.file, to: one[side] })),
  )
}

function enterPick(store: PageStore, file: string, pick: PagePick | null): void {
  const { state } = store
  const earlier = state.unsaved.find((change) => change.kind === 'pick' && change.file === file)
  const was = earlier?.kind === 'pick' ? earlier.was : (stillOf(state, file)?.pick?.version ?? null)
  // A held pick stays held: saving over somebody else's needs a word of the person.
  const held = earlier?.held?.why === 'conflict' ? earlier.held : null
  const before = earlier?.kind === 'pick' ? earlier.sha256 : null
  const sha256 = stillOf(state, file)?.head?.sha256 ?? before
  const change: Unsaved = { kind: 'pick', file, pick, sha256, was, held }
  store.put({
    unsaved: [...state.unsaved.filter((one) => one !== earlier), change],
    lastReference: pick?.reference ?? state.lastReference,
    drafts: without(state.drafts, file),
    moving: null,
    point: pick === null ? null : state.point,
    snap: keptSnap(state, file, pick),
  })
  void saveUnsaved(store)
}

function keptSnap(state: PageState, file: string, pick: PagePick | null): PageState['snap'] {
  const { snap } = state
  return snap !== null && snap.file === file && snap.of === pick ? snap : null
}

function enterAssignment(
  store: PageStore,
  stills: readonly { readonly file: string; readonly to: Assignment }[],
): void {
  const { state } = store
  const change: Unsaved = {
    kind: 'assign',
    stills: stills.map((one) => ({
      ...one,
      was: stillOf(state, one.file)?.entry?.version ?? null,
    })),
    addLights: true,
    held: null,
  }
  store.put({ unsaved: [...state.unsaved, change] })
  void saveUnsaved(store)
}
