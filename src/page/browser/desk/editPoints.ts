import type { Point, Quad } from '../../../math/point.js'
import { setPick } from '../state/changeWalk.js'
import { firstOutline } from './firstOutline.js'
import type { Size } from './stillWindow.js'
import type { PageState } from '../state/pageState.js'
import type { PageStore } from '../state/pageStore.js'
import { handPick, pickOf, pointsOf, referenceOf, stillOf } from '../state/shownPick.js'
import { askSnap } from './snapOutline.js'

/** A click on the still where it has no points yet: the first is remembered, the second gives the outline, or the ends of a length. */
export function clickPoint(store: PageStore, point: Point): void {
  const still = stillOf(store.state, store.state.current)
  if (still === null || still.head === null || pickOf(store.state, still) !== null) return
  const reference = referenceOf(store.state, still)
  if (reference === null) return
  const at = heldInside(point, still.head)
  const first = store.state.firstClick
  if (first === null) return store.put({ firstClick: at })
  if (reference.reference.kind === 'length') {
    if (Math.hypot(at[0] - first[0], at[1] - first[1]) < 1) return
    return setPick(store, still.file, handPick(reference.name, [first, at]))
  }
  const outline = firstOutline(first, at, modelOutline(store.state, reference.name))
  if (outline === null) return
  setPick(
    store,
    still.file,
    handPick(
      reference.name,
      outline.map((corner) => heldInside(corner, still.head!)),
    ),
  )
  void askSnap(store)
}

/** A point under way, by a hand that holds it. */
export function movePoint(store: PageStore, index: number, to: Point): void {
  const still = stillOf(store.state, store.state.current)
  if (still === null || still.head === null) return
  const points = store.state.moving?.points ?? shownPoints(store.state)
  const moved = points.map((point, i) => (i === index ? heldInside(to, still.head!) : point))
  store.put({ moving: { file: still.file, points: moved }, point: index, snap: null })
}

/** The hand lets go: what it moved is the pick. */
export function dropPoint(store: PageStore): void {
  const { moving } = store.state
  const still = stillOf(store.state, store.state.current)
  if (moving === null || still === null || moving.file !== still.file) return store.put({ moving: null })
  setPick(store, still.file, handPick(referenceOf(store.state, still)?.name ?? null, moving.points))
}

/** Moves the chosen point by so many px. */
export function nudgePoint(store: PageStore, [dx, dy]: Point): void {
  const { point } = store.state
  const at = point === null ? undefined : shownPoints(store.state)[point]
  if (point === null || at === undefined) return
  // Tenths of a pixel add up to whole ones.
  const to: Point = [Math.round((at[0] + dx) * 1e4) / 1e4, Math.round((at[1] + dy) * 1e4) / 1e4]
  movePoint(store, point, to)
  dropPoint(store)
}

/** Takes the points off the current still, to begin anew. */
export function clearPoints(store: PageStore): void {
  const still = stillOf(store.state, store.state.current)
  if (still === null) return
  if (pickOf(store.state, still) !== null) setPick(store, still.file, null)
  store.put({ firstClick: null, point: null, snap: null })
}

/** The next corner becomes the reference's own top left: for one held on its side. */
export function turnPoints(store: PageStore): void {
  const still = stillOf(store.state, store.state.current)
  const pick = still === null ? null : pickOf(store.state, still)
  if (still === null || pick?.corners === undefined) return
  const [a, b, c, d] = pick.corners
  setPick(store, still.file, handPick(pick.reference, [b, c, d, a]))
}

/** The points as they stand on the screen, moving ones included. */
export function shownPoints(state: PageState): readonly Point[] {
  const still = stillOf(state, state.current)
  if (still === null) return []
  if (state.moving !== null && state.moving.file === still.file) return state.moving.points
  const pick = pickOf(state, still)
  return pick === null ? [] : pointsOf(pick)
}

/** The outline of another still that this one's likely resembles: picked on the same reference, at the nearest mark. */
function modelOutline(state: PageState, reference: string): Quad | null {
  const here = stillOf(state, state.current)?.mark?.distanceM ?? null
  let best: { readonly outline: Quad; readonly far: number } | null = null
  for (const still of state.walk?.stills ?? []) {
    const pick = pickOf(state, still)
    if (pick?.corners === undefined || (pick.reference ?? reference) !== reference) continue
    const far =
      here === null || still.mark === null ? Infinity : Math.abs(Math.log(still.mark.distanceM / here))
    if (best === null || far <= best.far) best = { outline: pick.corners, far }
  }
  return best?.outline ?? null
}

function heldInside([x, y]: Point, { width, height }: Size): Point {
  return [Math.max(0, Math.min(width, x)), Math.max(0, Math.min(height, y))]
}
