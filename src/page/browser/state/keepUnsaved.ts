import { ROUTES, type Kept } from '../../api.js'
import { getFrom, postTo } from './callServer.js'
import { NO_CHANGES } from './changeHistory.js'
import type { Click, PageState } from './pageState.js'
import type { PageStore } from './pageStore.js'

const FORMAT = 'proofwalk-unsaved/1'
/** Handed over once a hand has rested so long, ms. */
const RESTED_MS = 100
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

/** Takes up what a page was doing on this walk when it ended, then keeps what this one does beside the walk. */
export async function keepUnsaved(store: PageStore): Promise<void> {
  const reply = await getFrom<Kept>(ROUTES.unsaved)
  const text = reply.kind === 'ok' ? reply.value.kept : null
  const before = text === null ? null : doingOf(text)
  if (before !== null && isIdle(store.state)) {
    const { drafts, unsaved, history, assignedSo } = before
    store.put({ drafts, unsaved, history, assignedSo })
  }
  let last = doingText(store.state)
  let timer: ReturnType<typeof setTimeout> | undefined
  store.listen(() => {
    clearTimeout(timer)
    timer = setTimeout(() => {
      const now = doingText(store.state)
      if (now === last) return
      last = now
      void postTo(ROUTES.unsaved, { kept: isIdle(store.state) ? null : now })
    }, RESTED_MS)
  })
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
        ({ file, clicks }) =>
          typeof file === 'string' &&
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
