import { useEffect, useMemo, useRef, useState } from 'preact/hooks'
import { assignSo } from '../state/changeWalk.js'
import type { Bulk } from '../state/pageState.js'
import { usePart, useStore } from '../state/pageStore.js'
import { bulkAssignment, likelyEach, suggestAssignments } from './suggestAssignment.js'

/** What assigning the chosen stills would do, before it is done; how many stills a mark has is asked here. */
export function BulkPanel({ bulk }: { readonly bulk: Bulk }) {
  const store = useStore()
  const walk = usePart((state) => state.walk)!
  const chosen = usePart((state) => state.chosen)
  const dialog = useRef<HTMLDialogElement>(null)
  const [each, setEach] = useState(likelyEach(walk, chosen.length))
  const light = useMemo(() => suggestAssignments(walk, chosen)[0]?.light ?? null, [walk, chosen])
  const wanted = useMemo(
    () => bulkAssignment(walk, chosen, bulk, light, each),
    [walk, chosen, bulk, light, each],
  )
  useEffect(() => dialog.current?.showModal(), [])
  const close = (): void => {
    store.put({ bulk: null })
    document.querySelector<HTMLElement>('.desk-box')?.focus()
  }
  const isNamed = bulk === 'named'
  const rest = isNamed ? 0 : chosen.length - wanted.length
  return (
    <dialog class="keys" ref={dialog} aria-labelledby="bulk-head" onClose={close}>
      <h2 id="bulk-head">
        {isNamed
          ? `Is the reference in these ${wanted.length} stills what their names say?`
          : `Assign ${wanted.length} stills in the order they were taken?`}
      </h2>
      {isNamed ? null : (
        <p class="field">
          <label for="bulk-each">Stills at one mark, one after another</label>
          <select
            id="bulk-each"
            value={each}
            onChange={(event) => setEach(Number(event.currentTarget.value))}
          >
            {[1, 2, 3, 4, 5, 6].map((count) => (
              <option value={count} key={count}>
                {count}
              </option>
            ))}
          </select>
        </p>
      )}
      {rest > 0 ? (
        <p>{rest} more stay as they are: their names or walk.yaml say their marks, or no mark is left.</p>
      ) : null}
      <div class="bulk-list" tabIndex={0} role="region" aria-label="What would be assigned">
        <dl>
          {wanted.map(({ file, to }) => (
            <div key={file}>
              <dt>{isNamed ? to.reference : `${to.mark}, ${to.light}`}</dt>
              <dd>{file.replace(/^stills\//, '')}</dd>
            </div>
          ))}
        </dl>
      </div>
      <p class="bulk-acts">
        <button
          type="button"
          class="main-act"
          autofocus
          disabled={wanted.length === 0}
          onClick={() => {
            assignSo(store, wanted)
            close()
          }}
        >
          Assign these
        </button>
        <button type="button" onClick={close}>
          Leave them
        </button>
      </p>
    </dialog>
  )
}
