import { memo } from 'preact/compat'
import { useEffect, useMemo, useRef } from 'preact/hooks'
import { escaped } from '../../../files/oneLine.js'
import { ROUTES, type PagePick, type StillView } from '../../api.js'
import { StillPicture } from '../state/StillPicture.js'
import { usePart, useStore } from '../state/pageStore.js'
import type { PageState } from '../state/pageState.js'
import { draftsOf, isPicked, picksOf, referenceOf } from '../state/shownPick.js'
import { stillGroups } from '../state/stillsInOrder.js'
import { sceneWordOf } from './sceneWord.js'
import { chooseAlso, chooseGroup, chooseTo, showStill, stepStill } from '../state/walkThrough.js'

/** Every still of the walk with how it stands, under the heads of its light; what is unassigned stands first. */
export function StillStrip() {
  const store = useStore()
  const walk = usePart((state) => state.walk)!
  const current = usePart((state) => state.current)
  const chosen = usePart((state) => state.chosen)
  usePart((state) => state.unsaved)
  const drafts = usePart((state) => state.drafts)
  const groups = useMemo(() => stillGroups(walk), [walk])
  const chosenSet = useMemo(() => new Set(chosen), [chosen])
  const assignedSo = usePart((state) => state.assignedSo)
  const suggested = useMemo(() => new Set(assignedSo.map(({ file }) => file)), [assignedSo])
  const list = useRef<HTMLDivElement>(null)
  useEffect(() => {
    const item = list.current?.querySelector<HTMLElement>('[data-current=true]')
    if (item !== null && item !== undefined) showWithin(list.current!, item)
  }, [current, groups])
  const keys = (event: KeyboardEvent): void => {
    const by = { ArrowDown: 1, ArrowRight: 1, ArrowUp: -1, ArrowLeft: -1, PageDown: 8, PageUp: -8 }[event.key]
    if (by !== undefined) {
      if (event.shiftKey) extendBy(by)
      else stepStill(store, by)
    } else if (event.key === 'Home' || event.key === 'End') stepStill(store, event.key === 'End' ? 1e6 : -1e6)
    else if (event.key === 'a' && (event.ctrlKey || event.metaKey)) chooseGroup(store, groups)
    else return
    event.preventDefault()
  }
  const extendBy = (by: number): void => {
    const order = groups.flatMap(({ stills }) => stills.map(({ file }) => file))
    const at = order.indexOf(current ?? '')
    const ends = chosen.map((file) => order.indexOf(file))
    // The end that is not the current still moves.
    const end = Math.min(...ends) === at ? Math.max(...ends) : Math.min(...ends)
    const next = order[Math.max(0, Math.min(order.length - 1, end + by))]
    if (next !== undefined) chooseTo(store, next)
  }
  const toDo = walk.stills.filter(({ state }) => state === 'unassigned' || state === 'assigned').length
  const begun = new Set(drafts.map(({ file }) => file)).size
  return (
    <nav class="strip-side" aria-label="Stills">
      <p class="strip-count">
        {walk.stills.length} {walk.stills.length === 1 ? 'still' : 'stills'}
        {toDo === 0 ? ', nothing left to do' : `, ${toDo} to do`}
        {begun === 0 ? '' : `, ${begun} begun`}
      </p>
      <div
        class="strip"
        ref={list}
        role="listbox"
        aria-label="Stills"
        aria-multiselectable="true"
        tabIndex={0}
        aria-activedescendant={current === null ? undefined : idOf(current)}
        onKeyDown={keys}
      >
        {groups.map(({ name, stills }) => (
          <div role="group" aria-label={`${name}, ${stills.length}`} key={name} class="strip-group">
            <p class="strip-head" role="presentation">
              {name} <span>{stills.length}</span>
            </p>
            {stills.map((still) => (
              <StripItem
                key={still.file}
                still={still}
                isCurrent={still.file === current}
                isChosen={chosenSet.has(still.file)}
                isSuggested={suggested.has(still.file)}
                word={stateWord(store.state, still)}
              />
            ))}
          </div>
        ))}
      </div>
    </nav>
  )
}

/** Scrolls a list, and nothing around it, until an item of it is in view. */
function showWithin(list: HTMLElement, item: HTMLElement): void {
  const [outer, inner] = [list.getBoundingClientRect(), item.getBoundingClientRect()]
  const needed = (start: number, end: number, from: number, to: number): number =>
    start < from ? start - from : end > to ? Math.min(end - to, start - from) : 0
  list.scrollBy(
    needed(inner.left, inner.right, outer.left, outer.right),
    needed(inner.top, inner.bottom, outer.top, outer.bottom),
  )
}

interface ItemProps {
  readonly still: StillView
  readonly isCurrent: boolean
  readonly isChosen: boolean
  /** Its mark is the machine's, as a person let it. */
  readonly isSuggested: boolean
  readonly word: string
}

const StripItem = memo(function StripItem({ still, isCurrent, isChosen, isSuggested, word }: ItemProps) {
  const sceneWord = usePart(({ results }) => sceneWordOf(results?.results ?? null, still.file))
  const store = useStore()
  const name = escaped(still.file.replace(/^stills\//, ''))
  const pick = (event: MouseEvent): void => {
    if (event.shiftKey) chooseTo(store, still.file)
    else if (event.ctrlKey || event.metaKey) chooseAlso(store, still.file)
    else showStill(store, still.file)
  }
  return (
    <div
      role="option"
      id={idOf(still.file)}
      class="strip-item"
      aria-selected={isChosen}
      data-current={isCurrent}
      data-state={still.state}
      data-suggested={isSuggested}
      data-elsewhere={sceneWord !== null}
      onClick={pick}
    >
      <StillPicture
        path={ROUTES.thumb}
        parameters={{ file: still.file, stamp: still.stamp, size: 240 }}
        alt=""
      />
      <span class="strip-mark">
        {still.mark?.text ?? '?'}
        {isSuggested ? <span class="unseen"> as suggested</span> : null}
      </span>
      <span class="unseen">{still.light ?? 'no light'}</span>
      <span class="strip-word">
        <StateSign
          state={still.state}
          isPicked={word.includes('picked') || word === 'not saved yet'}
          isBegun={word.startsWith('begun')}
        />
        {word}
        {sceneWord === null ? null : <strong>, {sceneWord}</strong>}
      </span>
      <span class="strip-file">{name}</span>
    </div>
  )
})

function stateWord(state: PageState, still: StillView): string {
  const picks = picksOf(state, still)
  const isAny = picks.length > 0
  if (state.unsaved.some((change) => change.kind === 'pick' && change.file === still.file))
    return 'not saved yet'
  if (still.state === 'failed') return 'not usable'
  if (still.state === 'unassigned') return isAny ? 'picked, no place' : 'no place'
  const draft = draftsOf(state, still).at(-1)
  if (draft !== undefined) return `begun, ${draft.clicks.length} placed`
  if (still.state === 'chart') return 'chart found'
  if (isAny && isPicked(state, still))
    return `${pickedWord(still, picks)}${isBorderSeen(state, still) ? ', border as seen' : ''}`
  if (isAny) return 'of no reference'
  if (still.searching) return 'looking for the chart'
  return still.picks.some(({ stale }) => stale) ? 'changed, pick again' : 'to pick'
}

/** Whether how the edge of its plate is made was taken from a still. */
function isBorderSeen(state: PageState, still: StillView): boolean {
  const reference = referenceOf(state, still)?.reference
  return reference?.kind === 'rectangle' && reference.border?.seenIn !== undefined
}

function pickedWord({ chart }: StillView, picks: readonly PagePick[]): string {
  const count = picks.length + (chart === null ? 0 : 1)
  const picked = count > 1 ? `${count} picked` : 'picked'
  if (picks.some(({ doubts }) => doubts !== undefined)) return `${picked}, doubted`
  return picks.every(({ method }) => method === 'snapped') ? `${picked}, fitted` : `${picked} by hand`
}

/** A frame that is dashed, open, solid or crossed, as verdicts are on the sheet. */
interface SignProps {
  readonly state: StillView['state']
  readonly isPicked: boolean
  readonly isBegun: boolean
}

function StateSign({ state, isPicked, isBegun }: SignProps) {
  const kind =
    state === 'failed'
      ? 'crossed'
      : state === 'unassigned' || isBegun
        ? 'dashed'
        : state === 'chart' || isPicked
          ? 'solid'
          : 'open'
  return (
    <svg class="sign" viewBox="0 0 12 12" width="12" height="12" aria-hidden="true">
      <rect
        x="1.5"
        y="1.5"
        width="9"
        height="9"
        fill={kind === 'solid' ? 'currentColor' : 'none'}
        stroke="currentColor"
        stroke-width="1.5"
        stroke-dasharray={kind === 'dashed' ? '2.4 1.6' : undefined}
      />
      {kind === 'crossed' ? <path d="M2 2 10 10M10 2 2 10" stroke="currentColor" stroke-width="1.5" /> : null}
    </svg>
  )
}

function idOf(file: string): string {
  return `still-${encodeURIComponent(file)}`
}
