import type { PagePick } from '../../api.js'
import { stepBack, stepForward, withChange } from './changeHistory.js'
import { takeBackDropped } from './dropStills.js'
import type { Assignment, Change, Draft, PageState, Unsaved, UnsavedPick } from './pageState.js'
import type { PageStore } from './pageStore.js'
import { pickVersion, saveUnsaved } from './saveUnsaved.js'
import { bare, draftOf, isSameReference, pickOf, referenceOf, stillOf } from './shownPick.js'

/** Gives a still a pick of the reference at hand in the place of the one it has, or takes that away: shown at once, saved at once, can be undone. */
export function setPick(store: PageStore, file: string, pick: PagePick | null): void {
  const still = stillOf(store.state, file)
  if (still === null) return
  const before = pickOf(store.state, still)
  if (before === null && pick === null) return
  store.put({ history: withChange(store.state.history, { kind: 'pick', file, before, after: pick }) })
  enterPick(store, file, before, pick)
}

/** Turns to one of several references in a still. A pick of a reference that the walk no longer has becomes one of it. */
export function turnTo(store: PageStore, file: string, reference: string): void {
  const still = stillOf(store.state, file)
  if (still === null) return
  const orphan = referenceOf(store.state, still) === null ? pickOf(store.state, still) : null
  if (orphan !== null) setPick(store, file, { ...bare(orphan), reference })
  store.put({ ...NOTHING_UNDER_WAY, atHand: new Map(store.state.atHand).set(file, reference) })
}

const NOTHING_UNDER_WAY = { moving: null, point: null, snap: null } as const

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

/** What is begun of a reference on a still and no pick yet; without points: nothing. */
export function setDraft(store: PageStore, draft: Draft): void {
  const others = withoutDraft(store.state.drafts, draft)
  store.put({ ...NOTHING_UNDER_WAY, drafts: draft.clicks.length === 0 ? others : [...others, draft] })
}

/** Takes the last point of a still back that is no pick yet; false where there is none. */
export function takeBackClick(store: PageStore): boolean {
  const { state } = store
  const still = stillOf(state, state.current)
  const draft = still === null ? null : draftOf(state, still)
  if (draft === null) return false
  setDraft(store, { ...draft, clicks: draft.clicks.slice(0, -1) })
  return true
}

function withoutDraft(
  drafts: readonly Draft[],
  { file, reference }: { readonly file: string; readonly reference: string | null },
): readonly Draft[] {
  return drafts.filter((one) => one.file !== file || one.reference !== reference)
}

/** Assigns what the machine proposed and a person saw: marked as such. */
export function assignSo(
  store: PageStore,
  wanted: readonly { readonly file: string; readonly to: Assignment }[],
): void {
  const act = 1 + Math.max(0, ...store.state.assignedSo.map((one) => one.act))
  const now = wanted.map(({ file }) => ({
    file,
    before: assignmentOf(stillOf(store.state, file)?.entry ?? null),
    act,
  }))
  assign(store, wanted)
  store.put({ assignedSo: [...store.state.assignedSo, ...now] })
}

/** What was assigned as proposed in the same act as one of these stills, the last act first. */
export function assignedWith({ assignedSo }: PageState, files: readonly string[]): PageState['assignedSo'] {
  const act = assignedSo.findLast(({ file }) => files.includes(file))?.act
  return assignedSo.filter((one) => one.act === act)
}

/** Takes back what was assigned so, all of one act at once. */
export function takeBackSo(store: PageStore): void {
  const { state } = store
  assign(
    store,
    assignedWith(state, state.chosen).map(({ file, before }) => ({ file, to: before })),
  )
}

/** Takes the last change back, and shows the still it was made on; a point placed on the still at hand before all else. */
export function undo(store: PageStore): void {
  if (takeBackClick(store)) return
  const step = stepBack(store.state.history)
  if (step === null) return
  if (step.change.kind === 'drop') {
    void takeBackDropped(store, step.change.files)
    return
  }
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
    const reference = (change[side] ?? change.before ?? change.after)?.reference ?? null
    if (reference !== null) store.put({ atHand: new Map(store.state.atHand).set(change.file, reference) })
    enterPick(store, change.file, change[side === 'after' ? 'before' : 'after'], change[side])
  } else if (change.kind === 'assign') undoAssignment(store, change, side)
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

function enterPick(store: PageStore, file: string, before: PagePick | null, pick: PagePick | null): void {
  const { state } = store
  const now = (before ?? pick)?.reference ?? null
  const earlier = state.unsaved.find(
    (change): change is UnsavedPick =>
      change.kind === 'pick' &&
      change.file === file &&
      isSameReference(state, change.pick === null ? change.reference : change.pick.reference, now),
  )
  const reference = earlier === undefined ? now : earlier.reference
  const was = earlier === undefined ? pickVersion(state, file, reference) : earlier.was
  // A held pick stays held: saving over somebody else's needs a word of the person.
  const held = earlier?.held?.why === 'conflict' ? earlier.held : null
  const sha256 = stillOf(state, file)?.head?.sha256 ?? earlier?.sha256 ?? null
  const change: Unsaved = { kind: 'pick', file, reference, pick, sha256, was, held }
  store.put({
    unsaved: [...state.unsaved.filter((one) => one !== earlier), change],
    lastReference: pick?.reference ?? state.lastReference,
    drafts: withoutDraft(state.drafts, { file, reference: pick?.reference ?? now }),
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
