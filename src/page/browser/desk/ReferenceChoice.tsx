import type { ReferenceView } from '../../api.js'
import { setDraft } from '../state/changeWalk.js'
import { usePart, useStore } from '../state/pageStore.js'
import { referenceOf, stillOf } from '../state/shownPick.js'
import { referenceHint } from '../state/referenceHint.js'
import { isPlacing } from './shownPoints.js'

/** Where nobody said which reference a still shows: the walk's, to be chosen; what its name says comes first and says why. */
export function ReferenceChoice() {
  const store = useStore()
  const still = usePart((state) => stillOf(state, state.current))
  const isAsked = usePart((state) => {
    const shown = stillOf(state, state.current)
    return shown !== null && shown.head !== null && isPlacing(state) && referenceOf(state, shown) === null
  })
  const references = usePart((state) => state.walk?.references ?? NONE)
  const last = usePart((state) => state.lastReference)
  if (!isAsked || still === null) return null
  const hint = referenceHint(still, references)
  const first = hint ?? last
  const order = [...references].sort((a, b) => Number(b.name === first) - Number(a.name === first))
  return (
    <span class="choice" role="group" aria-label="Reference">
      {order.map(({ name }) => (
        <button
          type="button"
          key={name}
          onClick={() => {
            setDraft(store, still.file, { reference: name, clicks: [] })
            document.querySelector<HTMLElement>('.desk-box')?.focus()
          }}
        >
          {name}
          {name === hint ? ', as its name says' : name === first ? ', as before' : ''}
        </button>
      ))}
    </span>
  )
}

const NONE: readonly ReferenceView[] = []
