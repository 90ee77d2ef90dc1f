import type { Unsaved } from '../state/pageState.js'
import { usePart, useStore } from '../state/pageStore.js'
import { keepMine, saveUnsaved, takeTheirs } from '../state/saveUnsaved.js'
import { putAway } from '../state/tell.js'

/** What the person has to be told or asked: the server is gone, a change met another one, something failed. */
export function NoticeList() {
  const store = useStore()
  const link = usePart((state) => state.link)
  const notices = usePart((state) => state.notices)
  const unsaved = usePart((state) => state.unsaved)
  const faults = usePart((state) => state.walk?.faults)
  const held = unsaved.filter((change) => change.held !== null)
  const words = LINK_WORDS[link]
  return (
    <div class="notices" role="region" aria-label="Notices" aria-live="polite">
      {words === '' ? null : (
        <div class="notice grave">
          <p>
            {words}
            {unsaved.length > 0
              ? ' What you did is kept in this page and saved as soon as there is an answer.'
              : ''}
          </p>
          {link === 'up' ? null : (
            <button type="button" onClick={() => void saveUnsaved(store)}>
              Try now
            </button>
          )}
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

const LINK_WORDS = {
  up: '',
  down: 'No answer from proofwalk on this machine. Is it still running in its terminal?',
  'shut-out':
    'This address is no longer valid: proofwalk was started anew. Open the new address it printed, in this browser; this page then goes on.',
  ended: 'proofwalk has ended. Start it again in the terminal to go on.',
} as const

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
        {held.why === 'conflict'
          ? `${what} were changed elsewhere at the same time. Nothing is lost: yours is shown here, the other is saved.`
          : `${what} could not be saved: ${held.message}.`}
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
