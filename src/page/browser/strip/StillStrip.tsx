import { memo } from 'preact/compat'
import { useEffect, useMemo, useRef } from 'preact/hooks'
import { escaped } from '../../../files/oneLine.js'
import { ROUTES, type PagePick, type StillView } from '../../api.js'
import { StillPicture } from '../state/StillPicture.js'
import { usePart, useStore } from '../state/pageStore.js'
import { pickOf } from '../state/shownPick.js'
import { stillGroups } from '../state/stillsInOrder.js'
import { chooseAlso, chooseGroup, chooseTo, showStill, stepStill } from '../state/walkThrough.js'

/** Every still of the walk with how it stands, under the heads of its light; what is unassigned stands first. */
export function StillStrip() {
  const store = useStore()
  const walk = usePart((state) => state.walk)!
  const current = usePart((state) => state.current)
  const chosen = usePart((state) => state.chosen)
  const unsaved = usePart((state) => state.unsaved)
  const drafts = usePart((state) => state.drafts)
  const groups = useMemo(() => stillGroups(walk), [walk])
  const chosenSet = useMemo(() => new Set(chosen), [chosen])
  const assignedSo = usePart((state) => state.assignedSo)
  const suggested = useMemo(() => new Set(assignedSo.map(({ file }) => file)), [assignedSo])
  const list = useRef<HTMLDivElement>(null)
  useEffect(() => {
    list.current
      ?.querySelector('[data-current=true]')
      ?.scrollIntoView({ block: 'nearest', inline: 'nearest' })
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
  const begun = [...drafts.values()].filter(({ clicks }) => clicks.length > 0).length
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
                word={stateWord(
                  still,
                  pickOf(store.state, still),
                  drafts.get(still.file)?.clicks.length ?? 0,
                  unsaved.some((change) => change.kind === 'pick' && change.file === still.file),
                )}
              />
            ))}
          </div>
        ))}
      </div>
    </nav>
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
          isPicked={word.startsWith('picked') || word === 'not saved yet'}
          isBegun={word.startsWith('begun')}
        />
        {word}
      </span>
      <span class="strip-file">{name}</span>
    </div>
  )
})

function stateWord(still: StillView, pick: PagePick | null, placed: number, isUnsaved: boolean): string {
  const isPicked = pick !== null
  if (isUnsaved) return 'not saved yet'
  if (still.state === 'failed') return 'not usable'
  if (still.state === 'chart') return 'chart found'
  if (still.state === 'unassigned') return isPicked ? 'picked, no place' : 'no place'
  if (isPicked)
    return pick.doubts !== undefined
      ? 'picked, doubted'
      : pick.method === 'snapped'
        ? 'picked, fitted'
        : 'picked by hand'
  if (placed > 0) return `begun, ${placed} placed`
  return still.searching
    ? 'looking for the chart'
    : still.pick?.stale === true
      ? 'changed, pick again'
      : 'to pick'
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
