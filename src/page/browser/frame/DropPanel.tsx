import { useEffect, useRef, useState } from 'preact/hooks'
import { asSentence } from '../../../sentences.js'
import { dropStills, stopDropping, takeBackDropped } from '../state/dropStills.js'
import { pageSays } from '../../sentences.js'
import { tell } from '../state/tell.js'
import type { Drop } from '../state/pageState.js'
import { usePart, useStore } from '../state/pageStore.js'
import { stillOf } from '../state/shownPick.js'

/** What the file chooser offers. */
const PICTURES = '.jpg,.jpeg,.png,.webp,.tif,.tiff,.avif'

/** A button that has stills chosen from the machine's own folders. */
export function AddStills({ isMain = false }: { readonly isMain?: boolean }) {
  const store = useStore()
  const input = useRef<HTMLInputElement>(null)
  return (
    <>
      <button type="button" class={isMain ? 'main-act' : ''} onClick={() => input.current?.click()}>
        Add stills
      </button>
      <input
        ref={input}
        type="file"
        multiple
        accept={PICTURES}
        hidden
        aria-label="Stills to copy into the walk"
        onChange={(event) => {
          const files = [...(event.currentTarget.files ?? [])]
          event.currentTarget.value = ''
          void dropStills(store, files)
        }}
      />
    </>
  )
}

/** The whole page takes what is dropped on it, and says so while it is dragged over. */
export function DropTarget() {
  const store = useStore()
  const folder = usePart((state) => state.walk?.folder)
  const [isOver, setOver] = useState(false)
  useEffect(() => {
    const until = new AbortController()
    const on = (kind: 'dragover' | 'dragleave' | 'drop', act: (event: DragEvent) => void): void =>
      addEventListener(
        kind,
        (event) => {
          if (event.dataTransfer?.types.includes('Files') !== true) return
          event.preventDefault() // else the browser would leave the page for the picture
          act(event)
        },
        until,
      )
    on('dragover', () => setOver(true))
    on('dragleave', ({ relatedTarget }) => setOver(relatedTarget !== null))
    on('drop', ({ dataTransfer }) => {
      setOver(false)
      if (store.state.walk === null) return tell(store, asSentence(pageSays['begin-first']().message))
      const items = [...dataTransfer!.items].filter(({ kind }) => kind === 'file')
      const isFolder = (item: DataTransferItem) => item.webkitGetAsEntry()?.isDirectory === true
      const folders = items.filter(isFolder).map((item) => item.webkitGetAsEntry()!.name)
      const files = items.flatMap((item) => (isFolder(item) ? [] : (item.getAsFile() ?? [])))
      void dropStills(store, files, folders)
    })
    return () => until.abort()
  }, [store])
  return isOver && folder !== undefined ? (
    <p class="drop-veil">Drop stills here: they are copied into {folder}/stills</p>
  ) : null
}

/** How far the copying is; then what came of it, and the way back. */
export function DropPanel() {
  const store = useStore()
  const drop = usePart((state) => state.drop)
  const waits = usePart(
    ({ drop, ...state }) =>
      drop?.files.filter((file) => stillOf({ drop, ...state }, file)?.state === 'unassigned').length ?? 0,
  )
  if (drop === null) return null
  const { name, files, refused, all, share } = drop
  const done = files.length + refused.length
  return (
    <section class="notice drop" aria-label="Stills copied into the walk">
      <p role="status">
        {name === null ? cameWords(drop, waits) : `Copying ${stillsWord(all)} into the walk`}
      </p>
      {name === null ? null : (
        <>
          <label class="drop-share">
            <progress max={all} value={Math.min(all, done + share)} />
            <span>
              {Math.min(all, done + 1)} of {all}, {name}
            </span>
          </label>
          <button type="button" onClick={stopDropping}>
            Stop
          </button>
        </>
      )}
      {name !== null || files.length === 0 ? null : (
        <button type="button" onClick={() => void takeBackDropped(store, files)}>
          {files.length === 1 ? 'Take it back' : `Take back all ${files.length}`}
        </button>
      )}
      {name !== null ? null : (
        <button type="button" onClick={() => store.put({ drop: null })}>
          Put away
        </button>
      )}
      {refused.length === 0 ? null : (
        <ul class="drop-refused" tabIndex={0} aria-label="Not copied">
          {refused.map((one, index) => (
            <li key={index}>
              <strong>{one.name}</strong>: {one.why}
            </li>
          ))}
        </ul>
      )}
    </section>
  )
}

function cameWords({ files, refused }: Drop, waits: number): string {
  const came = files.length
  const placed = came - waits
  const parts = [
    placed === 0 ? '' : `${placed} where ${placed === 1 ? 'its name says' : 'their names say'}`,
    waits === 0 ? '' : `${waits} ${waits === 1 ? 'waits' : 'wait'} for a mark and a light`,
  ].filter((part) => part !== '')
  const copied = came === 0 ? 'No still was copied.' : `${stillsWord(came)} copied: ${parts.join(', ')}.`
  return refused.length === 0 || came === 0 ? copied : `${copied} ${refused.length} not.`
}

function stillsWord(count: number): string {
  return `${count} ${count === 1 ? 'still' : 'stills'}`
}
