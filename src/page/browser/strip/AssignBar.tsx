import { useEffect, useMemo, useState } from 'preact/hooks'
import { assign } from '../state/changeWalk.js'
import type { Assignment } from '../state/pageState.js'
import { usePart, useStore } from '../state/pageStore.js'
import { stillOf } from '../state/shownPick.js'
import { marksInOrder, suggestAssignments } from './suggestAssignment.js'
import { takeSuggestions } from './takeSuggestions.js'

/** Mark, light and reference of the chosen stills: what they have, what is suggested, and fields to give others. */
export function AssignBar() {
  const store = useStore()
  const walk = usePart((state) => state.walk)!
  const chosen = usePart((state) => state.chosen)
  const current = usePart((state) => stillOf(state, state.current))
  const [mark, setMark] = useState('')
  const [light, setLight] = useState('')
  const [reference, setReference] = useState('')
  const isMany = chosen.length > 1
  const suggestions = useMemo(() => suggestAssignments(walk, chosen), [walk, chosen])
  // The fields say what the still has; with several chosen, an empty field leaves each as it is.
  useEffect(() => {
    setMark(isMany ? '' : (current?.mark?.text ?? ''))
    setLight(isMany ? '' : (current?.light ?? ''))
    setReference(isMany ? '' : (current?.reference ?? ''))
  }, [current?.file, current?.mark?.text, current?.light, current?.reference, isMany])

  const give = (): void => {
    const wanted = chosen.flatMap((file) => {
      const still = stillOf(store.state, file)
      if (still === null) return []
      const field = (typed: string, now: string | null, had: string | null): string | null =>
        typed.trim() === '' || typed.trim() === now ? had : typed.trim()
      // A mark alone or a light alone gives a still no place yet: the other one is as suggested.
      const likely = suggestions.find((suggestion) => suggestion.file === file)
      const mend = (own: string | null, now: string | null, suggested: string | undefined): string | null =>
        own ?? (now === null ? (suggested ?? null) : null)
      const to: Assignment = {
        mark: mend(
          field(mark, still.mark?.text ?? null, still.entry?.mark ?? null),
          still.mark?.text ?? null,
          likely?.mark,
        ),
        light: mend(field(light, still.light, still.entry?.light ?? null), still.light, likely?.light),
        reference: field(reference, still.reference, still.entry?.reference ?? null),
      }
      const had = still.entry
      const isSame =
        to.mark === (had?.mark ?? null) &&
        to.light === (had?.light ?? null) &&
        to.reference === (had?.reference ?? null)
      return isSame ? [] : [{ file, to }]
    })
    assign(store, wanted)
    document.querySelector<HTMLElement>('.desk-box')?.focus()
  }
  const inOrder = (from: 'nearest' | 'farthest'): void =>
    assign(
      store,
      marksInOrder(walk, chosen, from, light.trim() === '' ? (first?.light ?? null) : light.trim()),
    )
  const [first] = suggestions

  return (
    <form
      class="assign"
      aria-label="Mark, light and reference"
      onSubmit={(event) => {
        event.preventDefault()
        give()
      }}
    >
      <h1 class="assign-name">
        {isMany ? `${chosen.length} stills` : (current?.file.replace(/^stills\//, '') ?? 'No still')}
      </h1>
      <div class="field">
        <label for="field-mark">Mark</label>
        <input
          id="field-mark"
          list="known-marks"
          value={mark}
          placeholder={isMany ? 'each its' : (first?.mark ?? '16 m')}
          data-empty={mark === ''}
          autocomplete="off"
          onInput={(event) => setMark(event.currentTarget.value)}
        />
      </div>
      <div class="field">
        <label for="field-light">Light</label>
        <input
          id="field-light"
          list="known-lights"
          value={light}
          placeholder={isMany ? 'each its' : (first?.light ?? 'day')}
          data-empty={light === ''}
          autocomplete="off"
          onInput={(event) => setLight(event.currentTarget.value)}
        />
      </div>
      <div class="field">
        <label for="field-reference">Reference</label>
        <select
          id="field-reference"
          value={reference}
          onChange={(event) => setReference(event.currentTarget.value)}
        >
          <option value="">{isMany ? 'each its own' : 'not told'}</option>
          {walk.references.map(({ name, size }) => (
            <option value={name} key={name}>
              {name}, {size}
            </option>
          ))}
        </select>
      </div>
      <button type="submit">Assign</button>
      {isMany ? (
        <span class="in-order" role="group" aria-label="The planned marks in order">
          <button type="button" onClick={() => inOrder('nearest')}>
            Nearest first
          </button>
          <button type="button" onClick={() => inOrder('farthest')}>
            Farthest first
          </button>
        </span>
      ) : null}
      {first === undefined ? null : (
        <button
          type="button"
          class="suggested"
          title="As suggested by the stills before"
          onClick={() => takeSuggestions(store)}
        >
          {isMany ? `${first.mark}, ${first.light} and on? (y)` : `${first.mark}, ${first.light}? (y)`}
        </button>
      )}
      <datalist id="known-marks">
        {walk.marks.map(({ text }) => (
          <option value={text} key={text} />
        ))}
      </datalist>
      <datalist id="known-lights">
        {walk.lights.map((name) => (
          <option value={name} key={name} />
        ))}
      </datalist>
    </form>
  )
}
