import type { ReferenceView, StillView } from '../../api.js'
import { turnTo } from '../state/changeWalk.js'
import type { PageState } from '../state/pageState.js'
import { usePart, useStore } from '../state/pageStore.js'
import { isSameReference, picksOf, referenceOf, stillOf } from '../state/shownPick.js'
import { referenceHint } from '../state/referenceHint.js'

/**
 * Which of the walk's several references is at hand on a still that may show more than one, and how each stands. Where nobody said it is asked: what the still's
 * name says comes first and says why.
 */
export function ReferenceChoice() {
  const store = useStore()
  const still = usePart((state) => stillOf(state, state.current))
  const references = usePart((state) => state.walk?.references ?? NONE)
  const words = usePart((state) => (still === null ? '[]' : JSON.stringify(choices(state, still))))
  if (still === null || still.head === null || still.state === 'failed' || references.length < 2) return null
  return (
    <span class="choice" role="group" aria-label="Reference">
      {(JSON.parse(words) as readonly Choice[]).map(({ name, word, isAtHand }) => (
        <button
          type="button"
          key={name}
          aria-pressed={isAtHand}
          onClick={() => {
            turnTo(store, still.file, name)
            document.querySelector<HTMLElement>('.desk-box')?.focus()
          }}
        >
          {name}
          {word}
        </button>
      ))}
    </span>
  )
}

const NONE: readonly ReferenceView[] = []

interface Choice {
  readonly name: string
  /** How it stands, or why it comes first. */
  readonly word: string
  readonly isAtHand: boolean
}

function choices(state: PageState, still: StillView): readonly Choice[] {
  const references = state.walk?.references ?? NONE
  const atHand = referenceOf(state, still)?.name ?? null
  const hint = atHand === null ? referenceHint(still, references) : null
  const first = hint ?? (atHand === null ? state.lastReference : null)
  const picks = picksOf(state, still)
  const wordOf = (name: string): string => {
    if (picks.some((pick) => isSameReference(state, pick.reference, name))) return ', picked'
    if (still.chart?.reference === name) return ', found'
    if (state.drafts.some((draft) => draft.file === still.file && draft.reference === name)) return ', begun'
    return name === hint ? ', as its name says' : name === first ? ', as before' : ''
  }
  return [...references]
    .sort((a, b) => Number(b.name === first) - Number(a.name === first))
    .map(({ name }) => ({ name, word: wordOf(name), isAtHand: name === atHand }))
}
