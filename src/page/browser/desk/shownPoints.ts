import type { Point, Quad } from '../../../math/point.js'
import type { PageState } from '../state/pageState.js'
import {
  chartAtHand,
  draftOf,
  isSameReference,
  picksOf,
  pickOf,
  pointsOf,
  referenceOf,
  stillOf,
} from '../state/shownPick.js'
import { draftOutline, type ProposedOutline } from './draftOutline.js'
import type { Size } from './stillWindow.js'

/** The points as they stand on the screen, moving ones included. */
export function shownPoints(state: PageState): readonly Point[] {
  const still = stillOf(state, state.current)
  if (still === null) return []
  if (state.moving !== null && state.moving.file === still.file) return state.moving.points
  const chart = chartAtHand(state, still)
  const pick = pickOf(state, still)
  if (pick === null && chart !== null) return chart.corners
  return pick === null ? (draftOf(state, still)?.clicks.map(({ point }) => point) ?? []) : pointsOf(pick)
}

/** Whether a click on the current still would place a point. */
export function isPlacing(state: PageState): boolean {
  const still = stillOf(state, state.current)
  if (still === null || still.state === 'failed') return false
  return pickOf(state, still) === null && chartAtHand(state, still) === null
}

/** Whether what is at hand is a chart that was found: shown, not to be moved. */
export function isFoundChart(state: PageState): boolean {
  const still = stillOf(state, state.current)
  return still !== null && pickOf(state, still) === null && chartAtHand(state, still) !== null
}

/** The outlines of what else is picked on the current still, or found in it. */
export function otherOutlines(state: PageState): readonly (readonly Point[])[] {
  const still = stillOf(state, state.current)
  if (still === null) return []
  const own = pickOf(state, still)
  const chart = still.chart === null || chartAtHand(state, still) !== null ? [] : [still.chart.corners]
  return [
    ...picksOf(state, still)
      .filter((pick) => pick !== own)
      .map(pointsOf),
    ...chart,
  ]
}

/** The outline that the points placed so far on the current still propose; null where it has a pick, or they tell none. */
export function proposedOutline(state: PageState): ProposedOutline | null {
  const still = stillOf(state, state.current)
  const reference = still === null ? null : referenceOf(state, still)
  if (still === null || still.head === null || reference?.reference.kind !== 'rectangle') return null
  if (!isPlacing(state)) return null
  const outline = draftOutline(shownPoints(state), modelOutline(state, reference.name))
  if (outline === null) return null
  const corners = outline.corners.map((corner) => heldInside(corner, still.head!)) as unknown as Quad
  return { ...outline, corners }
}

/** The outline of another still that this one's likely resembles: picked on the same reference, at the nearest mark. */
function modelOutline(state: PageState, reference: string): Quad | null {
  const here = stillOf(state, state.current)?.mark?.distanceM ?? null
  let best: { readonly outline: Quad; readonly far: number } | null = null
  for (const still of state.walk?.stills ?? []) {
    const pick = picksOf(state, still).find((one) => isSameReference(state, one.reference, reference))
    if (pick?.corners === undefined) continue
    const far =
      here === null || still.mark === null ? Infinity : Math.abs(Math.log(still.mark.distanceM / here))
    if (best === null || far <= best.far) best = { outline: pick.corners, far }
  }
  return best?.outline ?? null
}

/** The nearest point that lies in a still, px. */
export function heldInside([x, y]: Point, { width, height }: Size): Point {
  return [Math.max(0, Math.min(width, x)), Math.max(0, Math.min(height, y))]
}
