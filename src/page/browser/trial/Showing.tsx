import { useEffect, useRef, useState } from 'preact/hooks'
import { TRIAL_ROUTES, type TrialAnswered, type TrialView } from '../../trialApi.js'
import { address, fetchBlob, postTo, type Reply } from '../state/callServer.js'

/** Px of the screen a px of the still. */
const ZOOMS = [1, 2, 3, 4, 6, 8, 12]
const MOST_FIRST_ZOOM = 4
/** Room at the sides of the picture, px of the screen. */
const BESIDE = 80

/** How pictures are looked at; `zoom` null: as large as there is room for, up to four times. */
export interface How {
  readonly zoom: number | null
  readonly brightness: number
}

interface Props {
  readonly view: TrialView
  readonly how: How
  readonly onHow: (how: How) => void
  readonly onDone: (told: string) => void
  readonly onRefused: (reply: Reply<TrialAnswered>) => void
  readonly onLeave: () => void
}

/** One crop, what is read of it, and how it is looked at. */
export function Showing({ view, how, onHow, onDone, onRefused, onLeave }: Props) {
  const { showing, letters, practice } = view
  const crop = useCrop(showing!)
  const [typed, setTyped] = useState('')
  const { brightness } = how
  const zoom = how.zoom ?? fittingZoom(crop?.width ?? 1)
  const [busy, setBusy] = useState(false)
  const field = useRef<HTMLInputElement>(null)
  useEffect(() => field.current?.focus(), [])
  const read = typed.replace(/\s/g, '')
  const answer = async (answered: string | null): Promise<void> => {
    if (busy || crop === null) return
    setBusy(true)
    const seconds = Math.round((performance.now() - crop.since) / 10) / 100
    const reply = await postTo<TrialAnswered>(TRIAL_ROUTES.answer, {
      showing,
      answered,
      seconds,
      zoom: zoom / devicePixelRatio,
      brightness,
    })
    setBusy(false)
    if (reply.kind !== 'ok') return onRefused(reply)
    const { said } = reply.value
    onDone(said === null ? '' : `Practice: it said ${said}.`)
  }
  return (
    <>
      <div class="trial-bar">
        <h1>{practice ? 'Practice' : `${view.done + 1} of ${view.all}`}</h1>
        <button class="quiet" onClick={onLeave}>
          Stop for now
        </button>
      </div>
      <div class="trial-crop">
        {crop === null ? null : (
          <img
            alt="What is to be read"
            src={crop.url}
            width={(crop.width * zoom) / devicePixelRatio}
            style={{ filter: `brightness(${brightness})` }}
          />
        )}
      </div>
      <form
        onSubmit={(event) => {
          event.preventDefault()
          if (read.length === letters) void answer(read.toUpperCase())
        }}
      >
        <label for="read">{letters} characters; ? for one you cannot tell</label>
        <input
          id="read"
          class="trial-read"
          ref={field}
          value={typed}
          maxLength={letters + 4}
          autoComplete="off"
          spellcheck={false}
          onInput={(event) => setTyped(event.currentTarget.value.replace(/[^A-Za-z0-9? ]/g, ''))}
        />
        <button class="main-act" disabled={busy || read.length !== letters}>
          Next
        </button>
        <button type="button" disabled={busy} onClick={() => void answer(null)}>
          Cannot tell
        </button>
      </form>
      <HowShown zoom={zoom} how={how} onHow={onHow} />
    </>
  )
}

/** The greatest of the zooms at which a picture fits the window. */
function fittingZoom(width: number): number {
  const room = Math.min(innerWidth, 1024) - BESIDE
  const fits = ZOOMS.filter((one) => one <= MOST_FIRST_ZOOM && (width * one) / devicePixelRatio <= room)
  return fits.at(-1) ?? 1
}

interface HowProps {
  readonly zoom: number
  readonly how: How
  readonly onHow: (how: How) => void
}

function HowShown({ zoom, how, onHow }: HowProps) {
  return (
    <div class="trial-how">
      <label>
        Zoom
        <select value={zoom} onChange={(event) => onHow({ ...how, zoom: Number(event.currentTarget.value) })}>
          {ZOOMS.map((one) => (
            <option key={one} value={one}>
              {one} times
            </option>
          ))}
        </select>
      </label>
      <label>
        Brightness
        <input
          type="range"
          min="0.25"
          max="4"
          step="0.05"
          value={how.brightness}
          onInput={(event) => onHow({ ...how, brightness: Number(event.currentTarget.value) })}
        />
      </label>
    </div>
  )
}

interface Crop {
  readonly url: string
  readonly width: number
  /** When it was there to be seen, ms. */
  readonly since: number
}

/** The picture of a showing, held by the page alone. */
function useCrop(showing: string): Crop | null {
  const [crop, setCrop] = useState<Crop | null>(null)
  useEffect(() => {
    let url: string | null = null
    let isGone = false
    void fetchBlob(address(TRIAL_ROUTES.crop, { showing })).then(async (blob) => {
      if (blob === null || isGone) return
      const { width } = await createImageBitmap(blob)
      url = URL.createObjectURL(blob)
      if (isGone) URL.revokeObjectURL(url)
      else setCrop({ url, width, since: performance.now() })
    })
    return () => {
      isGone = true
      if (url !== null) URL.revokeObjectURL(url)
    }
  }, [showing])
  return crop
}
