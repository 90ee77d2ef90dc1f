import { useEffect, useMemo, useState } from 'preact/hooks'
import type { ReferenceView, StillView } from '../../api.js'
import { assign, assignedWith, takeBackSo } from '../state/changeWalk.js'
import { takeBackDropped } from '../state/dropStills.js'
import type { Assignment } from '../state/pageState.js'
import { usePart, useStore } from '../state/pageStore.js'
import { referenceOf, stillOf } from '../state/shownPick.js'
import { suggestAssignments } from './suggestAssignment.js'
import { takeSuggestions } from './takeSuggestions.js'

/** What stands in the three fields. */
interface Typed {
  readonly mark: string
  readonly light: string
  readonly reference: string
}

/** `atHand`: the reference a person chose where nobody had said one. */
const typedOf = (still: StillView | null, atHand: string | null): Typed => ({
  mark: still?.mark?.text ?? '',
  light: still?.light ?? '',
  reference: still?.reference ?? atHand ?? '',
})

/** Mark, light and reference of the chosen stills: what they have, what is suggested, and fields to give others. */
export function AssignBar() {
  const store = useStore()
  const walk = usePart((state) => state.walk)!
  const chosen = usePart((state) => state.chosen)
  const current = usePart((state) => stillOf(state, state.current))
  const atHand = usePart((state) => (current === null ? null : (referenceOf(state, current)?.name ?? null)))
  const [typed, setTyped] = useState<Typed>(typedOf(null, null))
  const isMany = chosen.length > 1
  const suggestions = useMemo(() => suggestAssignments(walk, chosen), [walk, chosen])
  const [first] = suggestions
  // The fields say what the still has; with several chosen, an empty field leaves each as it is.
  useEffect(() => {
    setTyped(isMany ? typedOf(null, null) : typedOf(current, atHand))
  }, [current?.file, current?.mark?.text, current?.light, current?.reference, atHand, isMany])

  const give = (event: Event): void => {
    event.preventDefault()
    const wanted = chosen.flatMap((file) => {
      const still = stillOf(store.state, file)
      const likely = suggestions.find((suggestion) => suggestion.file === file)
      const to = still === null ? null : assignmentOf(still, typed, likely)
      return to === null ? [] : [{ file, to }]
    })
    assign(store, wanted)
    document.querySelector<HTMLElement>('.desk-box')?.focus()
  }
  return (
    <form class="assign" aria-label="Mark, light and reference" onSubmit={give}>
      <h1 class="assign-name">
        {isMany ? `${chosen.length} stills` : (current?.file.replace(/^stills\//, '') ?? 'No still')}
      </h1>
      <TypedField
        name="mark"
        label="Mark"
        value={typed.mark}
        placeholder={isMany ? 'each its' : (first?.mark ?? '16 m')}
        known={walk.marks.map(({ text }) => text)}
        onTyped={(mark) => setTyped({ ...typed, mark })}
      />
      <TypedField
        name="light"
        label="Light"
        value={typed.light}
        placeholder={isMany ? 'each its' : (first?.light ?? 'day')}
        known={walk.lights}
        onTyped={(light) => setTyped({ ...typed, light })}
      />
      <ReferenceField
        value={typed.reference}
        none={isMany ? 'each its own' : 'not known'}
        known={walk.references}
        onChosen={(reference) => setTyped({ ...typed, reference })}
      />
      <button type="submit">Assign</button>
      {isMany ? (
        <span class="in-order" role="group" aria-label="The planned marks in order">
          <button type="button" onClick={() => store.put({ bulk: 'nearest' })}>
            Nearest first
          </button>
          <button type="button" onClick={() => store.put({ bulk: 'farthest' })}>
            Farthest first
          </button>
        </span>
      ) : null}
      <TakeBacks chosen={chosen} />
      {first === undefined ? null : (
        <button
          type="button"
          class="suggested"
          title="As suggested by the stills before"
          onClick={() => takeSuggestions(store)}
        >
          {`${first.mark}, ${first.light}${isMany ? ' and on' : ''}? (y)`}
        </button>
      )}
    </form>
  )
}

/** The ways back: of what was assigned so, and of what was dropped. */
function TakeBacks({ chosen }: { readonly chosen: readonly string[] }) {
  const store = useStore()
  const assignedSo = usePart((state) => assignedWith(state, state.chosen).length)
  const inSession = usePart((state) => state.walk!.dropped)
  const dropped = chosen.filter((file) => inSession.includes(file))
  return (
    <>
      {assignedSo > 0 ? (
        <button type="button" class="suggested" onClick={() => takeBackSo(store)}>
          Take back {assignedSo} as suggested
        </button>
      ) : null}
      {dropped.length === 0 ? null : (
        <button type="button" onClick={() => void takeBackDropped(store, dropped)}>
          Take back {dropped.length === 1 ? 'this still' : `${dropped.length} stills`}
        </button>
      )}
    </>
  )
}

interface TypedFieldProps {
  readonly name: string
  readonly label: string
  readonly value: string
  readonly placeholder: string
  /** What the walk has of the kind, offered while typing. */
  readonly known: readonly string[]
  readonly onTyped: (text: string) => void
}

function TypedField({ name, label, value, placeholder, known, onTyped }: TypedFieldProps) {
  return (
    <div class="field">
      <label for={`field-${name}`}>{label}</label>
      <input
        id={`field-${name}`}
        list={`known-${name}s`}
        value={value}
        placeholder={placeholder}
        data-empty={value === ''}
        autocomplete="off"
        onInput={(event) => onTyped(event.currentTarget.value)}
      />
      <datalist id={`known-${name}s`}>
        {known.map((text) => (
          <option value={text} key={text} />
        ))}
      </datalist>
    </div>
  )
}

interface ReferenceFieldProps {
  readonly value: string
  /** What stands there where none is chosen. */
  readonly none: string
  readonly known: readonly ReferenceView[]
  readonly onChosen: (name: string) => void
}

function ReferenceField({ value, none, known, onChosen }: ReferenceFieldProps) {
  return (
    <div class="field">
      <label for="field-reference">Reference</label>
      <select id="field-reference" value={value} onChange={(event) => onChosen(event.currentTarget.value)}>
        <option value="">{none}</option>
        {known.map(({ name, size }) => (
          <option value={name} key={name}>
            {name}, {size}
          </option>
        ))}
      </select>
    </div>
  )
}

/** What a still is to be assigned by what was typed; null where that changes nothing. */
function assignmentOf(
  { mark, light, reference, entry }: StillView,
  typed: Typed,
  likely: { readonly mark: string; readonly light: string } | undefined,
): Assignment | null {
  const had = { mark: entry?.mark ?? null, light: entry?.light ?? null, reference: entry?.reference ?? null }
  const field = (text: string, now: string | null, own: string | null): string | null =>
    text.trim() === '' || text.trim() === now ? own : text.trim()
  // A mark alone or a light alone gives a still no place yet: the other one is as suggested.
  const mend = (own: string | null, now: string | null, suggested: string | undefined): string | null =>
    own ?? (now === null ? (suggested ?? null) : null)
  const markNow = mark?.text ?? null
  const to: Assignment = {
    mark: mend(field(typed.mark, markNow, had.mark), markNow, likely?.mark),
    light: mend(field(typed.light, light, had.light), light, likely?.light),
    reference: field(typed.reference, reference, had.reference),
  }
  const isSame = to.mark === had.mark && to.light === had.light && to.reference === had.reference
  return isSame ? null : to
}
