import type { Unsaved } from '../state/pageState.js'
import { usePart, useStore } from '../state/pageStore.js'
import { keepMine, saveUnsaved, takeTheirs } from '../state/saveUnsaved.js'
import { putAway } from '../state/tell.js'
import { asSentence } from '../../../sentences.js'
import { pageSays } from '../../sentences.js'

/** What the person has to be told or asked: the server is gone, a change met another one, something failed. */
export function NoticeList() {
  const store = useStore()
  const link = usePart((state) => state.link)
  const notices = usePart((state) => state.notices)
  const unsaved = usePart((state) => state.unsaved)
  const faults = usePart((state) => state.walk?.faults)
  const held = unsaved.filter((change) => change.held !== null)
  const words = link === 'up' ? null : pageSays[LINK_SAYS[link]]().message
  return (
    <div class="notices" role="region" aria-label="Notices" aria-live="polite">
      {words === null ? null : (
        <div class="notice grave">
          <p>
            {[words, ...(unsaved.length > 0 ? [pageSays['kept-here']().message] : [])]
              .map(asSentence)
              .join(' ')}
          </p>
          <button type="button" onClick={() => void saveUnsaved(store)}>
            Try now
          </button>
        </div>
      )}
      {(faults ?? []).map((fault) => (
        <div class="notice grave" key={fault}>
          <p>{fault}</p>
        </div>
      ))}
      {held.map((change) => (
        <HeldChange key={nameOf(change)} change={change} />
      ))}
      {notices.map(({ id, text }) => (
        <div class="notice" key={id}>
          <p>{text}</p>
          <button type="button" onClick={() => putAway(store, id)}>
            Put away
          </button>
        </div>
      ))}
    </div>
  )
}

const LINK_SAYS = { down: 'no-answer', 'shut-out': 'address-of-before', ended: 'ended' } as const

function nameOf(change: Unsaved): string {
  return change.kind === 'pick' ? change.file : change.stills.map(({ file }) => file).join(' ')
}

function HeldChange({ change }: { readonly change: Unsaved }) {
  const store = useStore()
  const held = change.held!
  const what =
    change.kind === 'pick' ? `The points on ${change.file}` : `The assignment of ${filesOf(change)}`
  return (
    <div class="notice grave">
      <p>
        {asSentence(
          (held.why === 'conflict'
            ? pageSays['changed-elsewhere'](what)
            : pageSays['not-saved'](what, held.message)
          ).message,
        )}
      </p>
      <button type="button" onClick={() => keepMine(store, change)}>
        {held.why === 'conflict' ? 'Keep mine' : 'Try again'}
      </button>
      <button type="button" onClick={() => takeTheirs(store, change)}>
        {held.why === 'conflict' ? 'Take the other' : 'Leave it'}
      </button>
    </div>
  )
}

function filesOf(change: Extract<Unsaved, { kind: 'assign' }>): string {
  const [first] = change.stills
  return change.stills.length === 1 ? (first?.file ?? '') : `${change.stills.length} stills`
}
