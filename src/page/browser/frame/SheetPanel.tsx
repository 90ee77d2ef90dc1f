import { useEffect, useRef, useState } from 'preact/hooks'
import { asSentence } from '../../../sentences.js'
import { writeSheet } from '../state/measureAndWrite.js'
import type { SheetAsk } from '../state/pageState.js'
import { usePart, useStore } from '../state/pageStore.js'

/** Writes the sheet as the walk says, and asks that first where it does not; beside it how it is written, to be changed, and the sheet itself. */
export function SheetButton() {
  const store = useStore()
  const sheet = usePart((state) => state.sheet)
  const setting = usePart((state) => state.walk?.sheet ?? null)
  const isRead = usePart((state) => state.walk !== null)
  const ask = (): void => store.put({ sheetAsk: { about: 'setting' } })
  const write = (): void => (setting === null ? ask() : void writeSheet(store, setting))
  return (
    <>
      <button type="button" disabled={sheet === 'writing' || !isRead} onClick={write}>
        {sheet === 'writing' ? 'Writing the sheet …' : 'Sheet'}
      </button>
      {setting === null ? null : (
        <button type="button" class="quiet" aria-haspopup="dialog" onClick={ask}>
          <span class="unseen">Sheet on </span>
          {setting.paper}
          {setting.maskPlates || setting.maskPeople ? ', masked' : ''}
        </button>
      )}
      {sheet === 'none' || sheet === 'writing' ? null : (
        <a href={sheet.address} target="_blank" rel="noopener">
          Open {sheet.file}
        </a>
      )}
    </>
  )
}

/** What is asked before a sheet is written: how, once; and whether it may show what the one before hides. */
export function SheetPanel({ ask }: { readonly ask: SheetAsk }) {
  const store = useStore()
  const dialog = useRef<HTMLDialogElement>(null)
  useEffect(() => dialog.current?.showModal(), [])
  const close = (): void => store.put({ sheetAsk: null })
  return (
    <dialog class="keys" ref={dialog} aria-labelledby="sheet-head" onClose={close}>
      {ask.about === 'setting' ? <Setting close={close} /> : <OverMasked ask={ask} close={close} />}
    </dialog>
  )
}

function Setting({ close }: { readonly close: () => void }) {
  const store = useStore()
  const walk = usePart((state) => state.walk)!
  const first = {
    paper: walk.units === 'imperial' ? 'Letter' : 'A4',
    maskPlates: false,
    maskPeople: false,
  } as const
  const [wanted, setWanted] = useState(walk.sheet ?? first)
  const tick = (key: 'maskPlates' | 'maskPeople', text: string) => (
    <label class="tick">
      <input
        type="checkbox"
        checked={wanted[key]}
        onChange={(event) => setWanted({ ...wanted, [key]: event.currentTarget.checked })}
      />
      {text}
    </label>
  )
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault()
        close()
        void writeSheet(store, wanted)
      }}
    >
      <h2 id="sheet-head">How is the sheet written?</h2>
      <fieldset class="asked">
        <legend>Paper</legend>
        {(['A4', 'Letter'] as const).map((paper) => (
          <label class="tick" key={paper}>
            <input
              type="radio"
              name="sheet-paper"
              checked={wanted.paper === paper}
              onChange={() => setWanted({ ...wanted, paper })}
            />
            {paper}
          </label>
        ))}
      </fieldset>
      <fieldset class="asked">
        <legend>Hidden in its pictures</legend>
        {tick('maskPlates', 'plates, boards and charts')}
        {tick('maskPeople', 'everything else: people, windows, the place')}
      </fieldset>
      <p>Nothing that was measured is changed by it. walk.yaml keeps the answer, so this is asked once.</p>
      <p class="bulk-acts">
        <button type="submit" class="main-act">
          Write the sheet
        </button>
        <button type="button" onClick={close}>
          Leave it
        </button>
      </p>
    </form>
  )
}

interface OverMaskedProps {
  readonly ask: Extract<SheetAsk, { about: 'masked' }>
  readonly close: () => void
}

function OverMasked({ ask, close }: OverMaskedProps) {
  const store = useStore()
  return (
    <>
      <h2 id="sheet-head">Write a sheet that shows more?</h2>
      <p>{asSentence(ask.message)}</p>
      <p class="bulk-acts">
        <button type="button" class="main-act" autofocus onClick={close}>
          Keep the masked sheet
        </button>
        <button
          type="button"
          onClick={() => {
            close()
            void writeSheet(store, { ...ask.setting, overMasked: true })
          }}
        >
          Write it so
        </button>
      </p>
    </>
  )
}
