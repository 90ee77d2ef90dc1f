import { useState } from 'preact/hooks'
import { redo, undo } from '../state/changeWalk.js'
import { measureAll } from '../state/measureAndWrite.js'
import { usePart, useStore } from '../state/pageStore.js'
import type { PageState } from '../state/pageState.js'
import { AddStills } from './DropPanel.js'
import { SheetButton } from './SheetPanel.js'
import { chosenTheme, nextTheme } from './theme.js'

/** Where one is, how it stands with saving, and what is done to the whole walk. */
export function TopBar() {
  const store = useStore()
  const walk = usePart((state) => state.walk)
  const room = usePart((state) => state.room)
  const isBegun = usePart((state) => state.begin === null)
  const [theme, setTheme] = useState(chosenTheme())
  const tab = (name: PageState['room'], text: string) => (
    <button type="button" aria-pressed={room === name} onClick={() => store.put({ room: name })}>
      {text}
    </button>
  )
  return (
    <header class="bar">
      <div class="bar-name">
        <strong>{walk?.site ?? 'Proofwalk'}</strong>
        {walk === null ? null : (
          <span>
            {walk.cameraName}
            {walk.simulated ? ' · simulated stills' : ''}
          </span>
        )}
      </div>
      {isBegun ? (
        <>
          <nav class="pair" aria-label="Rooms">
            {tab('stills', 'Stills')}
            {tab('walk', 'Walk')}
          </nav>
          <SaveWord />
        </>
      ) : null}
      <div class="bar-acts">
        {isBegun ? <WalkActs /> : null}
        <button type="button" class="quiet" onClick={() => setTheme(nextTheme())}>
          {theme === 'auto' ? 'Light or dark: as set' : theme === 'light' ? 'Light' : 'Dark'}
        </button>
        <button
          type="button"
          class="quiet"
          aria-haspopup="dialog"
          onClick={() => store.put({ keysShown: !store.state.keysShown })}
        >
          Keys
        </button>
      </div>
    </header>
  )
}

/** What is done to the whole walk. */
function WalkActs() {
  const store = useStore()
  const isRead = usePart((state) => state.walk !== null)
  const canUndo = usePart((state) => state.history.done.length > 0)
  const canRedo = usePart((state) => state.history.undone.length > 0)
  return (
    <>
      <button type="button" disabled={!canUndo} onClick={() => undo(store)}>
        Undo
      </button>
      <button type="button" disabled={!canRedo} onClick={() => redo(store)}>
        Redo
      </button>
      {isRead ? <AddStills /> : null}
      <MeasureButton />
      <SheetButton />
    </>
  )
}

function SaveWord() {
  const words = usePart(saveWords)
  return (
    <p class="save" role="status" data-saved={words.startsWith('Saved')}>
      {words}
    </p>
  )
}

function saveWords(state: PageState): string {
  const waiting = state.unsaved.filter(({ held }) => held === null).length
  const held = state.unsaved.length - waiting
  if (held > 0) return held === 1 ? '1 change waits for you' : `${held} changes wait for you`
  const isMeasured = state.results?.written === true && !state.measuring
  if (waiting === 0 && !state.saving && state.link === 'up')
    return isMeasured ? 'Saved and measured' : 'Saved'
  if (state.link === 'up') return 'Saving …'
  if (waiting === 0) return 'No answer from proofwalk'
  return waiting === 1 ? '1 change kept here, not saved yet' : `${waiting} changes kept here, not saved yet`
}

function MeasureButton() {
  const store = useStore()
  const measuring = usePart((state) => state.measuring)
  const done = usePart((state) => state.results?.done ?? 0)
  const all = usePart((state) => state.results?.all ?? 0)
  return (
    <button type="button" class="main-act" disabled={measuring} onClick={() => void measureAll(store)}>
      {measuring ? `Measuring ${done} of ${all}` : 'Measure all'}
    </button>
  )
}
