import type { Point } from '../../../math/point.js'
import type { PageStore } from '../state/pageStore.js'
import { stillOf } from '../state/shownPick.js'
import { isPlacing, proposedOutline, shownPoints } from './shownPoints.js'
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

/** Draws the desk: the part of the still that is shown (nothing where none is), its points, and the loupe at the point or cursor that is meant. */
export function paintDesk(
  { state }: PageStore,
  elements: DeskElements,
  box: Size,
  shown: ShownStill | null,
  cursor: Point | null,
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
  const still = stillOf(state, state.current)
  const points = still?.state === 'chart' ? (still.chartCorners ?? []) : shownPoints(state)
  const placing = isPlacing(state)
  const { snap } = state
  paintPoints(context, window, box.width, box.height, {
    points,
    chosen: state.point,
    found: still?.state === 'chart',
    fitted: snap?.file === state.current && snap?.answer?.ok === true ? snap.answer.pick.corners : null,
    isPick: !placing,
    proposed: placing ? (proposedOutline(state)?.corners ?? null) : null,
    cursor: placing ? cursor : null,
  })
  placeHandles(elements.handles, window, points)
  const isPointMeant = state.point !== null
  paintLoupeAt(isPointMeant ? (points[state.point!] ?? null) : cursor, elements.loupe, shown, box, points)
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
  at: Point | null,
  loupe: HTMLCanvasElement,
  { pyramid, window }: ShownStill,
  box: Size,
  points: readonly Point[],
): void {
  loupe.hidden = at === null
  if (at === null) return
  const side = Math.round(LOUPE_SIDE * devicePixelRatio)
  if (loupe.width !== side) loupe.width = loupe.height = side
  paintLoupe(loupe.getContext('2d')!, pyramid, at, points, devicePixelRatio)
  // Out of the way of the place it shows.
  const [x, y] = toScreen(window, at)
  loupe.dataset.side = x < box.width / 2 ? 'right' : 'left'
  loupe.dataset.end = y < box.height / 3 && Math.abs(x - box.width / 2) < box.width / 4 ? 'bottom' : 'top'
}
