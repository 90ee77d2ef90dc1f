import type { Point } from '../../../math/point.js'
import type { StillView } from '../../api.js'
import { likelyPlace, type LikelyPlace, type PickedPlace } from './likelyPlace.js'
import type { PageState } from '../state/pageState.js'
import { chartAtHand, isSameReference, pickOf, picksOf, pointsOf, referenceOf } from '../state/shownPick.js'
import { type Size, type StillWindow, wholeScale, wholeWindow, windowAround } from './stillWindow.js'

/** A reference this wide on the screen, CSS px, can be clicked with the whole still in view. */
const WIDE_ENOUGH = 150
/** A far one is opened to about this width. */
const OPENED_TO = 170

/** How a still is first shown: whole where its reference is large in it, else about the place where it is, or is likely to be. */
export function openingWindow(state: PageState, still: StillView, size: Size, box: Size): StillWindow {
  const place = placeOn(state, still, size)
  const whole = wholeWindow(size, box)
  if (place === null || place.widthPx * whole.scale >= WIDE_ENOUGH) return whole
  const around = 2 * place.withinPx + 1.5 * place.widthPx
  const scale = Math.min(OPENED_TO / place.widthPx, Math.min(box.width, box.height) / around)
  return windowAround(place.middle, Math.max(scale, wholeScale(size, box)), size, box)
}

/** Where its own points are; else where those of the other stills say it likely is. */
function placeOn(state: PageState, still: StillView, size: Size): LikelyPlace | null {
  const pick = pickOf(state, still)
  const own = pick === null ? (chartAtHand(state, still)?.corners ?? []) : pointsOf(pick)
  if (own.length > 0) return { ...spanOf(own), withinPx: 0 }
  if (still.mark === null || state.walk === null) return null
  const reference = referenceOf(state, still)?.name ?? null
  const places = state.walk.stills.flatMap((other): PickedPlace[] => {
    const there = picksOf(state, other).find((one) => isSameReference(state, one.reference, reference))
    if (there === undefined || other.mark === null || other.file === still.file) return []
    return [{ distanceM: other.mark.distanceM, ...spanOf(pointsOf(there)) }]
  })
  return likelyPlace(still.mark.distanceM, places, size)
}

function spanOf(points: readonly Point[]): { middle: Point; widthPx: number } {
  const xs = points.map(([x]) => x)
  const ys = points.map(([, y]) => y)
  const span = (along: readonly number[]): number => Math.max(...along) - Math.min(...along)
  const middle = (along: readonly number[]): number => (Math.max(...along) + Math.min(...along)) / 2
  return { middle: [middle(xs), middle(ys)], widthPx: Math.max(span(xs), span(ys), 1) }
}
