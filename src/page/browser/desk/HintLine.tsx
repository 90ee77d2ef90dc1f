import { goOn } from './pageKeys.js'
import type { ReferenceView } from '../../api.js'
import type { PageState } from '../state/pageState.js'
import { printedUncertainty } from '../../../units/printedEstimate.js'
import { clearPoints } from './editPoints.js'
import { usePart, useStore } from '../state/pageStore.js'
import { pickOf, referenceOf, stillOf } from '../state/shownPick.js'
import { askSnap, dropSnap, takeSnap } from './snapOutline.js'
import { pageSays } from '../../sentences.js'

/** One sentence: what to do next; and the buttons that do it. */
export function HintLine() {
  const store = useStore()
  const words = usePart(hintWords)
  const isShown = usePart((state) => state.snap?.answer?.ok === true)
  const canSnap = usePart((state) => {
    const still = stillOf(state, state.current)
    return still !== null && state.snap === null && pickOf(state, still)?.corners !== undefined
  })
  const isPicked = usePart((state) => {
    const still = stillOf(state, state.current)
    return still !== null && pickOf(state, still) !== null
  })
  return (
    <div class="hint">
      <p role="status">{words}</p>
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
      {isPicked && !isShown ? (
        <button type="button" onClick={() => clearPoints(store)}>
          Clear
        </button>
      ) : null}
      <button type="button" onClick={() => goOn(store)}>
        Next
      </button>
    </div>
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
  if (still.state === 'failed') return still.problems[0]?.message ?? 'This still cannot be used.'
  if (still.head === null) return 'Opening the still …'
  if (still.state === 'chart') return 'The chart was found here: nothing to do.'
  const pick = pickOf(state, still)
  const reference = referenceOf(state, still)
  const name = reference?.name ?? 'reference'
  const { snap } = state
  if (pick === null) {
    if (still.searching) return 'Looking for the chart …'
    const isLength = reference?.reference.kind === 'length'
    if (state.firstClick !== null)
      return isLength ? `Now the other end of the ${name}.` : 'Now the opposite corner.'
    return isLength
      ? `Click one end of the ${name}.`
      : `Click a corner of ${outlineWords(reference)}, then the opposite one.`
  }
  if (snap !== null && snap.file === still.file) {
    if (snap.answer === null) return 'Fitting the outline to the edges …'
    if (!snap.answer.ok) return `${pageSays['no-fit'](snap.answer.message).message}.`
    const remark = snap.answer.remarks[0]?.message
    return `${pageSays['outline-fitted'](printedUncertainty(snap.answer.sigmaPx), remark).message}.`
  }
  if (still.pick?.stale === true && pick !== still.pick) return 'The still has changed since it was picked.'
  if (state.point !== null) return 'Arrow keys nudge by 1 px, with Shift by 0.1 px.'
  return pick.method === 'snapped'
    ? 'Fitted to the edges. Enter goes on.'
    : 'Drag a corner to its place, or fit the outline to the edges. Enter goes on.'
}
