import { ROUTES, type Kept } from '../../api.js'
import { getFrom, postTo } from './callServer.js'
import { NO_CHANGES } from './changeHistory.js'
import type { Click, Draft, PageState } from './pageState.js'
import type { PageStore } from './pageStore.js'
import { isSameReference, picksOf, stillOf } from './shownPick.js'

const FORMAT = 'proofwalk-unsaved/1'
/** Handed over so long after a change, with all that came meanwhile, ms. */
const AFTER_MS = 100
/** Steps that can be undone after a restart. */
const MOST_STEPS = 100

/** What outlives the page: what is begun, what is not saved, and what can be undone. */
interface Doing {
  readonly format: typeof FORMAT
  readonly drafts: PageState['drafts']
  readonly unsaved: PageState['unsaved']
  readonly history: PageState['history']
  readonly assignedSo: PageState['assignedSo']
}

/** What a page keeps beside its walk. */
interface Keeping {
  /** As last handed over. */
  text: string
  /** One after the other, so that an older one never takes the place of a newer. */
  handing: Promise<unknown>
}

const keepingOf = new WeakMap<PageStore, Keeping>()

/** Takes up what a page was doing on this walk when it ended, then keeps what this one does beside the walk. */
export async function keepUnsaved(store: PageStore): Promise<void> {
  const reply = await getFrom<Kept>(ROUTES.unsaved)
  const text = reply.kind === 'ok' ? reply.value.kept : null
  const before = text === null ? null : doingOf(text)
  if (before !== null && isIdle(store.state)) {
    const { unsaved, history, assignedSo } = before
    store.put({ unsaved, history, assignedSo })
    store.put({ drafts: before.drafts.filter((draft) => !isDone(store.state, draft)) })
  }
  const keeping = { text: doingText(store.state), handing: Promise.resolve() }
  keepingOf.set(store, keeping)
  let isDue = false
  store.listen(() => {
    // News come at any time: waiting for quiet it might never be handed over.
    if (isDue) return
    isDue = true
    setTimeout(() => {
      isDue = false
      void handOver(store.state, keeping)
    }, AFTER_MS)
  })
}

/**
 * Brings what is kept up to what is saved, at once. Were a change still listed as unsaved when the page ends, it would be made anew at the next start: over what was done after it,
 * where that came back to what there was before.
 */
export async function keepSaved(store: PageStore): Promise<void> {
  const keeping = keepingOf.get(store)
  if (keeping !== undefined) await handOver(store.state, keeping)
}

function handOver(state: PageState, keeping: Keeping): Promise<unknown> {
  const text = doingText(state)
  if (text === keeping.text) return keeping.handing
  keeping.text = text
  const kept = isIdle(state) ? null : text
  keeping.handing = keeping.handing.then(() => postTo(ROUTES.unsaved, { kept }))
  return keeping.handing
}

/** Whether what was begun became a pick, and the page ended before it said so. */
function isDone(state: PageState, { file, reference }: Draft): boolean {
  const still = stillOf(state, file)
  return (
    still !== null && picksOf(state, still).some((pick) => isSameReference(state, pick.reference, reference))
  )
}

function isIdle({ drafts, unsaved, history, assignedSo }: PageState): boolean {
  return [drafts, unsaved, history.done, history.undone, assignedSo].every(({ length }) => length === 0)
}

function doingText({ drafts, unsaved, history, assignedSo }: PageState): string {
  const doing: Doing = {
    format: FORMAT,
    drafts,
    // A word of the person's is asked for anew.
    unsaved: unsaved.map((change) => ({ ...change, held: null })),
    history: { done: history.done.slice(-MOST_STEPS), undone: history.undone.slice(-MOST_STEPS) },
    assignedSo,
  }
  return JSON.stringify(doing)
}

/** What the text says; null where it is none of ours, which is then as if nothing had been kept. */
function doingOf(text: string): Doing | null {
  try {
    const kept = JSON.parse(text) as Partial<Doing>
    const { format, drafts, unsaved, history = NO_CHANGES, assignedSo = [] } = kept
    const isOurs =
      format === FORMAT &&
      Array.isArray(drafts) &&
      drafts.every(
        ({ file, sha256, clicks }) =>
          typeof file === 'string' &&
          typeof sha256 === 'string' &&
          clicks.every(({ point, sigmaPx }: Click) => point.every(Number.isFinite) && sigmaPx > 0),
      ) &&
      Array.isArray(unsaved) &&
      unsaved.every(({ kind }) => kind === 'pick' || kind === 'assign') &&
      Array.isArray(history.done) &&
      Array.isArray(history.undone) &&
      Array.isArray(assignedSo)
    return isOurs ? { format, drafts, unsaved, history, assignedSo } : null
  } catch {
    return null
  }
}
