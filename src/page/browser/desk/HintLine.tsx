import { useMemo } from 'preact/hooks'
import { liveAnswer } from '../answer/liveDensity.js'
import { borderlessPlate, knowBorder } from '../state/plateBorder.js'
import { nextToDo, otherToDo } from '../state/walkThrough.js'
import { ReferenceChoice } from './ReferenceChoice.js'
import { isFoundChart, isPlacing, proposedOutline, shownPoints } from './shownPoints.js'
import type { ReferenceView, StillView } from '../../api.js'
import type { PageState } from '../state/pageState.js'
import { printedUncertainty } from '../../../units/printedEstimate.js'
import { clearPoints } from './editPoints.js'
import { usePart, useStore } from '../state/pageStore.js'
import { walkFigures } from '../state/walkFigures.js'
import { draftOf, pickOf, referenceOf, stillOf } from '../state/shownPick.js'
import { askSnap, dropSnap, takeSnap } from './snapOutline.js'
import { pageSays } from '../../sentences.js'

/** One sentence: what to do next; and the buttons that do it. */
export function HintLine() {
  const store = useStore()
  const words = usePart(hintWords)
  const isShown = usePart((state) => state.snap?.answer?.ok === true)
  const canSnap = usePart((state) => {
    const still = stillOf(state, state.current)
    if (still === null || state.snap !== null) return false
    return pickOf(state, still)?.corners !== undefined || proposedOutline(state) !== null
  })
  const isAsked = usePart((state) => {
    const still = stillOf(state, state.current)
    return still !== null && still.head !== null && referenceOf(state, still) === null
  })
  const isPlaced = usePart((state) => isPlacing(state))
  const isFinger = isPlaced && !isAsked && matchMedia('(pointer: coarse)').matches
  const unknown = usePart((state) => {
    const plate = borderlessPlate(state)
    return plate !== null && state.borderUnknown.includes(plate.name) ? plate.name : null
  })
  const isBegun = usePart((state) => shownPoints(state).length > 0 && !isFoundChart(state))
  return (
    <div class="hint">
      <p role="status" data-asks={isAsked}>
        <NarrowDensity />
        {words}
        {isFinger ? ' Press and hold for a loupe over the finger; pinch to zoom.' : ''}
      </p>
      <div class="hint-acts">
        <ReferenceChoice />
        {isShown ? (
          <>
            <button type="button" class="main-act" onClick={() => takeSnap(store)}>
              Take the fitted outline
            </button>
            <button type="button" onClick={() => dropSnap(store)}>
              Leave mine
            </button>
          </>
        ) : null}
        {canSnap ? (
          <button type="button" onClick={() => void askSnap(store)}>
            Fit to the edges
          </button>
        ) : null}
        {isBegun && !isShown ? (
          <button type="button" onClick={() => clearPoints(store)}>
            Clear
          </button>
        ) : null}
        {unknown === null ? null : (
          <button type="button" onClick={() => knowBorder(store, unknown, false)}>
            Edge of the {unknown} …
          </button>
        )}
        <button type="button" onClick={() => nextToDo(store)}>
          Next
        </button>
      </div>
    </div>
  )
}

/** The density of the pick at hand, for a window so narrow that the answer lies far below the still. */
function NarrowDensity() {
  const walk = usePart((state) => state.walk)
  const still = usePart((state) => stillOf(state, state.current))
  const reference = usePart((state) => (still === null ? null : referenceOf(state, still)))
  const pick = usePart((state) => (still === null ? null : pickOf(state, still)))
  const live = useMemo(
    () =>
      walk === null || still === null || reference === null || pick === null
        ? null
        : liveAnswer(walk, still, reference, pick),
    [walk, still, reference, pick],
  )
  if (walk === null || live === null || !live.density.ok) return null
  const { onTarget: value, low, high } = live.density.value.density
  const { density, interval, densityUnit } = walkFigures(walk)
  return (
    <strong class="narrow-density">
      {density({ value, low, high }).value} {densityUnit} ({interval({ value, low, high })}).{' '}
    </strong>
  )
}

/** What of a reference has its size: of a board, which has a dark rim, the light rectangle. */
function outlineWords(reference: ReferenceView | null): string {
  if (reference === null) return 'the reference'
  const { name, size, preset } = reference
  const isBoard = reference.reference.kind === 'rectangle' && reference.reference.marking === 'plain'
  return isBoard && preset === null ? `the light rectangle of the ${name} (${size})` : `the ${name}`
}

function hintWords(state: PageState): string {
  const still = stillOf(state, state.current)
  if (still === null) return 'Choose a still.'
  if (still.state === 'failed') return still.problems.at(-1)?.message ?? 'This still cannot be used.'
  if (still.head === null) return 'Opening the still …'
  const pick = pickOf(state, still)
  if (isFoundChart(state)) return 'The chart was found here: nothing to do.'
  if (pick !== null && referenceOf(state, still) === null)
    return `Picked on ${pick.reference ?? 'a reference'}, which walk.yaml no longer has: nothing is measured. Which reference is it now?`
  if (pick === null && still.searching && draftOf(state, still) === null) return 'Looking for the chart …'
  const { snap } = state
  if (snap !== null && snap.file === still.file) {
    if (snap.answer === null) return 'Fitting the outline to the edges …'
    if (!snap.answer.ok) return `${pageSays['no-fit'](snap.answer.message, pick === null).message}.`
    const remark = snap.answer.remarks.map(({ message }) => message).join('; ')
    return `${pageSays['outline-fitted'](printedUncertainty(snap.answer.sigmaPx), remark).message}.`
  }
  if (pick === null) return placingWords(state, still)
  if (state.point !== null) return NUDGE
  const isLast = otherToDo(state) === null
  const next = isLast ? 'No still is left to do: measure all, then write the sheet.' : 'Enter goes on.'
  return pick.method === 'snapped'
    ? `Fitted to the edges and confirmed. ${next}`
    : `Placed by hand. Drag a corner to its place, or fit the outline to the edges. ${next}`
}

const NUDGE = 'Arrow keys nudge by 1 px, with Shift by 0.1 px.'

/** What to do where points are being placed. */
function placingWords(state: PageState, still: StillView): string {
  const reference = referenceOf(state, still)
  if (reference === null) return `Which reference is it? Nobody said, and nothing is measured until then.`
  if (state.point !== null) return NUDGE
  const count = draftOf(state, still)?.clicks.length ?? 0
  if (count === 0 && still.picks.some(({ stale }) => stale))
    return `The still has changed since it was picked: click a corner of ${outlineWords(reference)} again.`
  if (reference.reference.kind === 'length')
    return count === 0
      ? `Click one end of the ${reference.name}.`
      : `Now the other end of the ${reference.name}.`
  if (count === 0) return `Click a corner of ${outlineWords(reference)}, then the opposite one.`
  if (count === 1) return 'Now the opposite corner.'
  return `Proposed from ${count} corners, not picked: click the other ${count === 2 ? 'two corners' : 'corner'}, or fit the outline to the edges and take it.`
}
