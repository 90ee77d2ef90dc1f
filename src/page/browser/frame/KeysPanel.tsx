import { useEffect, useRef, useState } from 'preact/hooks'
import { useStore } from '../state/pageStore.js'
import { setSingleKeys, singleKeys } from '../desk/singleKeys.js'

const KEYS: readonly (readonly [string, string])[] = [
  ['Enter', 'take the fitted outline where one is shown, and go on to the next still with work to do'],
  ['s', 'fit the outline to the edges; again: take it'],
  ['Esc', 'leave the fitted outline, the chosen corner, the last corner placed'],
  ['Tab', 'from corner to corner'],
  ['Arrows', 'nudge the chosen corner by 1 px; with Shift by 0.1 px, with Alt by 10 px'],
  ['Arrows, Space', 'without corners: move the cross (Shift: finely) and click with it'],
  ['Backspace', 'take the corners off this still'],
  ['t', 'the next corner is the top left of what was carried'],
  ['Ctrl Z, Ctrl Y', 'undo, redo (also u)'],
  ['+  -  0  1  f', 'zoom in, out, whole still, pixel by pixel, to the place'],
  ['n', 'next still with work to do'],
  [',  .', 'still before, still after'],
  ['m  l  r', 'type the mark, the light, the reference of the chosen stills'],
  ['y', 'assign the chosen stills as suggested; several are shown first'],
  ['Shift, Ctrl', 'in the strip: choose several'],
  ['w', 'the walk at a glance, and back'],
]

/** The list of keys. */
export function KeysPanel() {
  const store = useStore()
  const dialog = useRef<HTMLDialogElement>(null)
  const [on, setOn] = useState(singleKeys())
  useEffect(() => dialog.current?.showModal(), [])
  const close = (): void => store.put({ keysShown: false })
  return (
    <dialog class="keys" ref={dialog} aria-labelledby="keys-head" onClose={close}>
      <h2 id="keys-head">Keys</h2>
      <dl>
        {KEYS.map(([key, does]) => (
          <div key={key}>
            <dt>{key}</dt>
            <dd>{does}</dd>
          </div>
        ))}
      </dl>
      <label class="tick">
        <input
          type="checkbox"
          checked={on}
          onChange={(event) => {
            setSingleKeys(event.currentTarget.checked)
            setOn(event.currentTarget.checked)
          }}
        />
        Single letters are commands
      </label>
      <button type="button" onClick={close}>
        Close
      </button>
    </dialog>
  )
}
