import type { Point, Quad } from '../../../math/point.js'
import { HAND_SIGMA_PX } from '../../../measure/reference/pick.js'
import { asSentence } from '../../../sentences.js'
import type { ReferenceView } from '../../api.js'
import { pageSays } from '../../sentences.js'
import { setDraft, setPick } from '../state/changeWalk.js'
import type { Click, Draft } from '../state/pageState.js'
import type { PageStore } from '../state/pageStore.js'
import { clicksOf, draftOf, handPick, pickOf, referenceOf, stillOf } from '../state/shownPick.js'
import { tell } from '../state/tell.js'
import { roundOutline } from './draftOutline.js'
import { heldInside, isPlacing, proposedOutline, shownPoints } from './shownPoints.js'
import { showChoice } from './ReferenceChoice.js'
import { askSnap } from './snapOutline.js'

/**
 * A click on a still that has no pick: one more corner of its reference, or end of its length. All of them placed is a pick. Two opposite corners, or three, are a
 * proposal, to be fitted to the edges. While nobody said which reference it is, nothing is placed and that is asked.
 */
export function clickPoint(store: PageStore, click: Click): void {
  const still = stillOf(store.state, store.state.current)
  if (still === null || still.head === null || !isPlacing(store.state)) return
  const reference = referenceOf(store.state, still)
  if (reference === null) return showChoice()
  const { file, head } = still
  const fresh: Draft = { file, sha256: head.sha256, reference: reference.name, clicks: [] }
  const draft = draftOf(store.state, still) ?? fresh
  const next = { ...click, point: heldInside(click.point, head) }
  const isDouble = draft.clicks.some(
    ({ point: [x, y] }) => Math.hypot(x - next.point[0], y - next.point[1]) < 1,
  )
  if (isDouble) return
  placeAll(store, reference, { ...draft, clicks: [...draft.clicks, next] })
}

/** Takes points as placed: a pick where they are all, else a proposal. */
function placeAll(store: PageStore, { name, reference }: ReferenceView, draft: Draft): void {
  const { file, clicks } = draft
  if (reference.kind === 'length') {
    if (clicks.length < 2) return setDraft(store, draft)
    return setPick(store, file, handPick(name, clicks))
  }
  if (clicks.length < 4) {
    setDraft(store, draft)
    if (proposedOutline(store.state) !== null) void askSnap(store)
    return
  }
  const points = clicks.map(({ point }) => point) as [Point, Point, Point, Point]
  const round = roundOutline(points)
  if (round === null) return tell(store, asSentence(pageSays['corners-not-convex']().message))
  const placed = round.map((point) => clicks.find((one) => one.point === point)!)
  setPick(store, file, handPick(name, placed))
}

/** A point under way, by a hand that holds it. */
export function movePoint(store: PageStore, index: number, to: Point): void {
  const still = stillOf(store.state, store.state.current)
  if (still === null || still.head === null) return
  const points = store.state.moving?.points ?? shownPoints(store.state)
  const moved = points.map((point, i) => (i === index ? heldInside(to, still.head!) : point))
  store.put({ moving: { file: still.file, points: moved }, point: index, snap: null })
}

/** The hand lets go of the chosen point: it is placed there, so well. */
export function dropPoint(store: PageStore, sigmaPx: number): void {
  const { moving, point: index } = store.state
  const still = stillOf(store.state, store.state.current)
  if (moving === null || still === null || moving.file !== still.file) return store.put({ moving: null })
  const pick = pickOf(store.state, still)
  const draft = draftOf(store.state, still)
  const before = pick === null ? (draft?.clicks ?? []) : clicksOf(pick)
  const clicks = before.map((one, i) => (i === index ? { point: moving.points[i]!, sigmaPx } : one))
  const reference = referenceOf(store.state, still)
  if (pick !== null)
    setPick(store, still.file, handPick(reference?.name ?? pick.reference, clicks, pick.doubts))
  else if (draft !== null && reference !== null) placeAll(store, reference, { ...draft, clicks })
  store.put({ point: index })
}

/** Moves the chosen point by so many px. */
export function nudgePoint(store: PageStore, [dx, dy]: Point): void {
  const { point } = store.state
  const at = point === null ? undefined : shownPoints(store.state)[point]
  if (point === null || at === undefined) return
  // Tenths of a pixel add up to whole ones.
  const to: Point = [Math.round((at[0] + dx) * 1e4) / 1e4, Math.round((at[1] + dy) * 1e4) / 1e4]
  movePoint(store, point, to)
  dropPoint(store, HAND_SIGMA_PX)
}

/** Takes the points off the current still, to begin anew. */
export function clearPoints(store: PageStore): void {
  const still = stillOf(store.state, store.state.current)
  if (still === null) return
  const draft = draftOf(store.state, still)
  setPick(store, still.file, null)
  if (draft !== null) setDraft(store, { ...draft, clicks: [] })
  store.put({ moving: null, point: null, snap: null })
}

/** The next corner becomes the reference's own top left: for one held on its side. */
export function turnPoints(store: PageStore): void {
  const still = stillOf(store.state, store.state.current)
  const pick = still === null ? null : pickOf(store.state, still)
  if (still === null || pick?.corners === undefined) return
  const [a, b, c, d] = clicksOf(pick) as [Click, Click, Click, Click]
  const doubts = pick.doubts?.map(({ code, corners }) =>
    corners === undefined
      ? { code }
      : { code, corners: [corners[1], corners[2], corners[3], corners[0]] as Quad },
  )
  setPick(store, still.file, handPick(pick.reference, [b, c, d, a], doubts))
}
