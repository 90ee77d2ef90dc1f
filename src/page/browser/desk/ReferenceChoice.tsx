import { useMemo } from 'preact/hooks'
import type { ReferenceView, StillView } from '../../api.js'
import { turnTo } from '../state/changeWalk.js'
import type { PageState } from '../state/pageState.js'
import { usePart, useStore } from '../state/pageStore.js'
import { draftsOf, isSameReference, picksOf, referenceOf, stillOf } from '../state/shownPick.js'
import { referenceHint } from '../state/referenceHint.js'
import { namedReferences } from '../strip/suggestAssignment.js'

/**
 * Which of the walk's several references is at hand on a still that may show more than one, and how each stands. Where nobody said it is asked: what the still's
 * name says comes first and says why.
 */
export function ReferenceChoice() {
  const store = useStore()
  const still = usePart((state) => stillOf(state, state.current))
  const references = usePart((state) => state.walk?.references ?? NONE)
  const words = usePart((state) => (still === null ? '[]' : JSON.stringify(choices(state, still))))
  const walk = usePart((state) => state.walk)
  const named = useMemo(() => (walk === null ? 0 : namedReferences(walk).length), [walk])
  if (still === null || still.head === null || still.state === 'failed' || references.length < 2) return null
  const listed = JSON.parse(words) as readonly Choice[]
  return (
    <>
      <span class="choice" role="group" aria-label="Reference">
        {listed.map(({ name, word, isAtHand }) => (
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
      {named < 2 || listed.some(({ isAtHand }) => isAtHand) ? null : (
        <button type="button" onClick={() => store.put({ bulk: 'named' })}>
          All {named} as their names say …
        </button>
      )}
    </>
  )
}

/** Turns the eye and the keyboard to the question which reference it is: a click on the still found it open. */
export function showChoice(): void {
  const choice = document.querySelector<HTMLElement>('.choice')
  // A finger's press focuses the still only after it was told.
  setTimeout(() => choice?.querySelector('button')?.focus(), 50)
  choice?.animate([{ outline: '4px solid currentColor' }, { outline: '4px solid currentColor' }], 1500)
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
    if (draftsOf(state, still).some(({ reference }) => reference === name)) return ', begun'
    return name === hint ? ', as its name says' : name === first ? ', as before' : ''
  }
  return [...references]
    .sort((a, b) => Number(b.name === first) - Number(a.name === first))
    .map(({ name }) => ({ name, word: wordOf(name), isAtHand: name === atHand }))
}
