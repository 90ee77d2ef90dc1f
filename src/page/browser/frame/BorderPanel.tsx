import { useEffect, useRef, useState } from 'preact/hooks'
import type { ReferenceView } from '../../api.js'
import { usePart, useStore } from '../state/pageStore.js'
import {
  borderlessPlate,
  knowBorder,
  lookForBorder,
  picksOfPlate,
  plateToAsk,
  writeBorder,
} from '../state/plateBorder.js'
import { pageSays } from '../../sentences.js'
import { asSentence } from '../../../sentences.js'
import { askSnap } from '../desk/snapOutline.js'

type Kind = 'none' | 'rim' | 'inset'

const WORDS: Readonly<Record<Kind, string>> = {
  none: 'No border: its ground runs out to the rim',
  rim: 'A dark border that ends at the rim',
  inset: 'A dark line drawn inside the rim',
}

/** Asks, once a walk, how the edge of its plate is made: before a dark ground no picture tells. Where nobody knew and a pick shows it, asks with that. */
export function BorderPanel() {
  const store = useStore()
  const plate = usePart(plateToAsk)
  const unknown = usePart((state) => borderlessPlate(state)?.name ?? null)
  const picks = usePart((state) => (unknown === null ? '' : picksOfPlate(state, unknown)))
  useEffect(() => {
    if (unknown !== null && picks !== '') void lookForBorder(store, unknown)
  }, [unknown, picks])
  return plate === null ? null : <Asked key={plate.name} plate={plate} />
}

function Asked({ plate: { name } }: { readonly plate: ReferenceView }) {
  const store = useStore()
  const dialog = useRef<HTMLDialogElement>(null)
  // None at first: an answer given unread would hold every fit to it.
  const [kind, setKind] = useState<Kind | null>(null)
  const seen = usePart(({ borderSeen }) => (borderSeen?.reference === name ? borderSeen : null))
  const [sizes, setSizes] = useState({ rim: seen?.width ?? '3 mm', inset: '4 mm' })
  const [fault, setFault] = useState<string | null>(null)
  useEffect(() => dialog.current?.showModal(), [])
  const goOn = (): void => document.querySelector<HTMLElement>('.desk-box')?.focus()
  const leave = (): void => {
    knowBorder(store, name, true)
    goOn()
  }
  const write = async (): Promise<void> => {
    if (kind === null) return
    const stated = kind === 'none' ? kind : `${kind} ${sizes[kind].trim()}`
    const border =
      seen !== null && stated === `rim ${seen.width}` ? `${stated} as seen in ${seen.file}` : stated
    const wrong = await writeBorder(store, { reference: name, border })
    setFault(wrong)
    if (wrong !== null) return
    goOn()
    if (store.state.snap !== null) void askSnap(store)
  }
  return (
    <dialog class="keys border" ref={dialog} aria-labelledby="border-head" onClose={leave}>
      <h2 id="border-head">How is the edge of the {name} made?</h2>
      <p>
        Before dark ground a dark border cannot be seen, and its width counts. It is written into walk.yaml.
      </p>
      {seen === null ? null : (
        <p class="problem">
          {asSentence(pageSays['border-seen-here'](seen.file, seen.width, seen.sides).message)}
        </p>
      )}
      <div class="border-kinds" role="radiogroup" aria-labelledby="border-head">
        {(['none', 'rim', 'inset'] as const).map((one) => (
          <label key={one} data-chosen={kind === one}>
            <PlateCorner kind={one} />
            <span>
              <input
                type="radio"
                name="border"
                value={one}
                checked={kind === one}
                onChange={() => setKind(one)}
              />
              {WORDS[one]}
            </span>
          </label>
        ))}
      </div>
      {kind === null || kind === 'none' ? null : (
        <p class="field">
          <label for="border-size">{kind === 'rim' ? 'How wide' : 'How far inside the rim'}</label>
          <input
            id="border-size"
            value={sizes[kind]}
            onInput={(event) => setSizes({ ...sizes, [kind]: event.currentTarget.value })}
          />
        </p>
      )}
      {fault === null ? null : (
        <p class="problem" role="alert">
          {fault}
        </p>
      )}
      <p class="bulk-acts">
        <button type="button" class="main-act" disabled={kind === null} onClick={() => void write()}>
          It is so
        </button>
        <button type="button" onClick={() => dialog.current?.close()}>
          I do not know
        </button>
      </p>
    </dialog>
  )
}

/** The upper left corner of a plate before dark ground, not to scale. */
function PlateCorner({ kind }: { readonly kind: Kind }) {
  const line = kind === 'rim' ? 4 : 14
  return (
    <svg class="plate-corner" viewBox="0 0 132 84" aria-hidden="true">
      <rect width="132" height="84" class="plate-beyond" />
      <rect x="20" y="16" width="112" height="68" rx="3" class="plate-ground" />
      {kind === 'none' ? null : (
        <path
          d={`M${16 + line + 4} 84V${16 + line}H132`}
          class="plate-ink"
          fill="none"
          stroke-width={kind === 'rim' ? 8 : 5}
        />
      )}
      <path d="M58 84V48H82V84M100 84V48H124" class="plate-ink" fill="none" stroke-width="7" />
    </svg>
  )
}
