import type { Point } from '../../../math/point.js'
import type { PageStore } from '../state/pageStore.js'
import { isFoundChart, isPlacing, otherOutlines, proposedOutline, shownPoints } from './shownPoints.js'
import { LOUPE_PIXEL, loupeScale } from './clickSigma.js'
import { LOUPE_SIDE, paintLoupe } from './paintLoupe.js'
import { paintPoints } from './paintPoints.js'
import { toScreen, type Size, type StillWindow } from './stillWindow.js'
import type { TilePyramid } from './tilePyramid.js'

/** What the desk draws on. */
export interface DeskElements {
  readonly box: HTMLElement
  readonly canvas: HTMLCanvasElement
  readonly loupe: HTMLCanvasElement
  /** The points as buttons, for keyboard and reading aloud; moved along with the picture. */
  readonly handles: HTMLElement
}

/** A still that is up, and which part of it. */
export interface ShownStill {
  readonly pyramid: TilePyramid
  readonly window: StillWindow
}

/** Where a click would fall, px of the still, and the finger that holds the loupe there, CSS px of the box; null: nowhere, none. */
interface Cursor {
  readonly at: Point | null
  readonly finger: Point | null
}

/** Draws the desk: the part of the still that is shown (nothing where none is), its points, and the loupe at the point or cursor that is meant. */
export function paintDesk(
  { state }: PageStore,
  elements: DeskElements,
  box: Size,
  shown: ShownStill | null,
  cursor: Cursor,
): void {
  const context = elements.canvas.getContext('2d')!
  context.setTransform(devicePixelRatio, 0, 0, devicePixelRatio, 0, 0)
  context.clearRect(0, 0, box.width, box.height)
  elements.handles.hidden = shown === null
  if (shown === null) return
  const { pyramid, window } = shown
  pyramid.draw(context, window, box, devicePixelRatio)
  elements.box.dataset.drawn = pyramid.hasAny() ? pyramid.file : ''
  // Which part is shown, for whoever drives the page by program.
  elements.box.dataset.window = `${window.scale} ${window.left} ${window.top}`
  const points = shownPoints(state)
  const placing = isPlacing(state)
  const { snap } = state
  paintPoints(context, window, box.width, box.height, {
    points,
    chosen: state.point,
    others: otherOutlines(state),
    found: isFoundChart(state),
    fitted: snap?.file === state.current && snap?.answer?.ok === true ? snap.answer.pick.corners : null,
    isPick: !placing,
    proposed: placing ? (proposedOutline(state)?.corners ?? null) : null,
    cursor: placing ? cursor.at : null,
  })
  placeHandles(elements.handles, window, points)
  const at = state.point !== null ? (points[state.point] ?? null) : cursor.at
  paintLoupeAt({ at, finger: cursor.finger }, elements.loupe, shown, box, points)
}

function placeHandles(handles: HTMLElement, window: StillWindow, points: readonly Point[]): void {
  handles.querySelectorAll<HTMLElement>('button').forEach((button, index) => {
    const point = points[index]
    if (point === undefined) return
    const [x, y] = toScreen(window, point)
    button.style.transform = `translate(${x}px, ${y}px)`
  })
}

function paintLoupeAt(
  { at, finger }: Cursor,
  loupe: HTMLCanvasElement,
  { pyramid, window }: ShownStill,
  box: Size,
  points: readonly Point[],
): void {
  loupe.hidden = at === null
  if (at === null) return
  const side = Math.round(LOUPE_SIDE * devicePixelRatio)
  if (loupe.width !== side) loupe.width = loupe.height = side
  const pixel = finger === null ? LOUPE_PIXEL : loupeScale(window.scale)
  paintLoupe(loupe.getContext('2d')!, pyramid, at, points, { density: devicePixelRatio, pixel })
  const [x, y] = toScreen(window, at)
  const place = finger === null ? null : overFinger(finger, box)
  loupe.style.left = place === null ? '' : `${place[0]}px`
  loupe.style.top = place === null ? '' : `${place[1]}px`
  // Out of the way of the place it shows.
  loupe.dataset.side = place !== null ? 'finger' : x < box.width / 2 ? 'right' : 'left'
  loupe.dataset.end =
    place !== null
      ? 'finger'
      : y < box.height / 3 && Math.abs(x - box.width / 2) < box.width / 4
        ? 'bottom'
        : 'top'
}

/** A fingertip hides so much around it, CSS px. */
const FINGERTIP = 40

/** Where the loupe's upper left corner stands: above a finger, beside it where there is no room, never over it. */
function overFinger([x, y]: Point, { width }: Size): Point {
  const across = Math.max(0, Math.min(width - LOUPE_SIDE, x - LOUPE_SIDE / 2))
  if (y >= LOUPE_SIDE + FINGERTIP) return [across, y - LOUPE_SIDE - FINGERTIP]
  return [x < width / 2 ? x + FINGERTIP : x - LOUPE_SIDE - FINGERTIP, 0]
}
