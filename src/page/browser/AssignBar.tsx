import { useEffect, useMemo, useState } from 'preact/hooks'
import { assign } from './changeWalk.js'
import type { Assignment } from './pageState.js'
import { usePart, useStore } from './pageStore.js'
import { stillOf } from './shownPick.js'
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
      const to: Assignment = {
        mark: field(mark, still.mark?.text ?? null, still.entry?.mark ?? null),
        light: field(light, still.light, still.entry?.light ?? null),
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
    assign(store, marksInOrder(walk, chosen, from, light.trim() === '' ? null : light.trim()))
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
      <label>
        <span>Mark</span>
        <input
          data-field="mark"
          list="known-marks"
          value={mark}
          placeholder={isMany ? 'as it is' : '16 m'}
          data-empty={mark === ''}
          autocomplete="off"
          onInput={(event) => setMark(event.currentTarget.value)}
        />
      </label>
      <label>
        <span>Light</span>
        <input
          data-field="light"
          list="known-lights"
          value={light}
          placeholder={isMany ? 'as it is' : 'day'}
          data-empty={light === ''}
          autocomplete="off"
          onInput={(event) => setLight(event.currentTarget.value)}
        />
      </label>
      <label>
        <span>Reference</span>
        <select
          data-field="reference"
          value={reference}
          onChange={(event) => setReference(event.currentTarget.value)}
        >
          <option value="">{isMany ? 'as it is' : 'not told'}</option>
          {walk.references.map(({ name, size }) => (
            <option value={name} key={name}>
              {name}, {size}
            </option>
          ))}
        </select>
      </label>
      <button type="submit">Assign</button>
      {isMany ? (
        <span class="in-order">
          <button type="button" onClick={() => inOrder('nearest')}>
            In order, nearest first
          </button>
          <button type="button" onClick={() => inOrder('farthest')}>
            Farthest first
          </button>
        </span>
      ) : null}
      {first === undefined ? null : (
        <button type="button" class="suggested" onClick={() => takeSuggestions(store)}>
          {isMany
            ? `As suggested (y): ${first.mark}, ${first.light} and so on, ${suggestions.length} stills`
            : `As suggested (y): ${first.mark}, ${first.light}`}
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
