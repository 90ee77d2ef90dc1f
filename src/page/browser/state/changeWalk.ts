import type { PagePick } from '../../api.js'
import { stepBack, stepForward, withChange } from './changeHistory.js'
import type { Assignment, Change, PageState, Unsaved } from './pageState.js'
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
  store.put({ history: withChange(store.state.history, { kind: 'assign', stills }) })
  enterAssignment(
    store,
    stills.map(({ file, after }) => ({ file, to: after })),
  )
}

/** Takes the last change back, and shows the still it was made on. */
export function undo(store: PageStore): void {
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
  } else
    enterAssignment(
      store,
      change.stills.map((one) => ({ file: one.file, to: one[side] })),
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
    moving: null,
    firstClick: null,
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
