import type { Point } from '../../../math/point.js'
import { clickPoint, shownPoints } from './editPoints.js'
import { openingWindow } from './openingWindow.js'
import type { PageStore } from '../state/pageStore.js'
import { LOUPE_SIDE, paintLoupe } from './paintLoupe.js'
import { paintPoints } from './paintPoints.js'
import { pickOf, stillOf } from '../state/shownPick.js'
import {
  inOtherBox,
  panBy,
  toScreen,
  toStill,
  wholeWindow,
  windowAround,
  zoomAbout,
  type Size,
  type StillWindow,
} from './stillWindow.js'
import { type TilePyramid, tilePyramid } from './tilePyramid.js'

/** What the desk draws on. */
interface DeskElements {
  readonly box: HTMLElement
  readonly canvas: HTMLCanvasElement
  readonly loupe: HTMLCanvasElement
  /** The points as buttons, for keyboard and reading aloud; moved along with the picture. */
  readonly handles: HTMLElement
}

/** The large still: what of it is shown, and where the cursor is. */
export interface Desk {
  attach(elements: DeskElements): () => void
  /** Draws anew with the next frame. */
  redraw(): void
  zoom(factor: number, at?: Point): void
  pan(by: Point): void
  whole(): void
  /** A pixel of the still on a pixel of the screen. */
  pixels(): void
  /** The points, or where they likely are. */
  place(): void
  /** Where the pointer is over the box, CSS px; null: nowhere. */
  hover(at: Point | null): void
  /** Moves the cursor by keyboard, CSS px, and keeps it in view. */
  moveCursor(by: Point): void
  clickCursor(): void
  /** The index of the point that a hand at this place means, and where that point is on the screen; null: none near. */
  pointNear(at: Point, within: number): { readonly index: number; readonly at: Point } | null
  stillAt(at: Point): Point | null
}

/** The desk of a page. */
export function createDesk(store: PageStore): Desk {
  let elements: DeskElements | null = null
  let box: Size = { width: 1, height: 1 }
  let window: StillWindow | null = null
  let pyramid: TilePyramid | null = null
  let shown = ''
  let cursor: Point | null = null
  let asked = false

  const redraw = (): void => {
    if (asked || elements === null) return
    asked = true
    requestAnimationFrame(() => {
      asked = false
      paint()
    })
  }

  /** Takes the current still up where it is another one, or another version of it. */
  const follow = (): void => {
    const still = stillOf(store.state, store.state.current)
    const key = still === null || still.head === null ? '' : `${still.file} ${still.stamp}`
    if (key === shown) return
    shown = key
    cursor = null
    pyramid = null
    window = null
    if (still === null || still.head === null) return
    const size: Size = { width: still.head.width, height: still.head.height }
    pyramid = tilePyramid(still.file, still.stamp, size, redraw)
    window = openingWindow(store.state, still, size, box)
  }

  const paint = (): void => {
    if (elements === null) return
    follow()
    const density = devicePixelRatio
    const { canvas, handles } = elements
    const context = canvas.getContext('2d')!
    context.setTransform(density, 0, 0, density, 0, 0)
    context.clearRect(0, 0, box.width, box.height)
    handles.hidden = window === null
    if (pyramid === null || window === null) return
    pyramid.draw(context, window, box, density)
    elements.box.dataset.drawn = pyramid.hasAny() ? pyramid.file : ''
    // Which part is shown, for whoever drives the page by program.
    elements.box.dataset.window = `${window.scale} ${window.left} ${window.top}`
    const { state } = store
    const still = stillOf(state, state.current)
    const points = still?.state === 'chart' ? (still.chartCorners ?? []) : shownPoints(state)
    const placing = points.length === 0 && still !== null
    const { snap } = state
    const fitted =
      snap !== null && snap.file === state.current && snap.answer?.ok === true ? snap.answer : null
    paintPoints(context, window, box.width, box.height, {
      points,
      chosen: state.point,
      found: still?.state === 'chart',
      fitted: fitted === null ? null : fitted.pick.corners,
      first: placing ? state.firstClick : null,
      cursor: placing ? cursor : null,
    })
    placeHandles(points)
    paintLoupeAt(
      placing ? cursor : state.point === null ? cursor : (points[state.point] ?? null),
      points,
      density,
    )
  }

  const placeHandles = (points: readonly Point[]): void => {
    const buttons = elements!.handles.querySelectorAll<HTMLElement>('button')
    buttons.forEach((button, index) => {
      const point = points[index]
      if (point === undefined) return
      const [x, y] = toScreen(window!, point)
      button.style.transform = `translate(${x}px, ${y}px)`
    })
  }

  const paintLoupeAt = (at: Point | null, points: readonly Point[], density: number): void => {
    const { loupe } = elements!
    loupe.hidden = at === null
    if (at === null || pyramid === null || window === null) return
    const side = Math.round(LOUPE_SIDE * density)
    if (loupe.width !== side) {
      loupe.width = side
      loupe.height = side
    }
    paintLoupe(loupe.getContext('2d')!, pyramid, at, points, density)
    // Out of the way of the place it shows.
    const [x, y] = toScreen(window, at)
    loupe.dataset.side = x < box.width / 2 ? 'right' : 'left'
    loupe.dataset.end = y < box.height / 3 && Math.abs(x - box.width / 2) < box.width / 4 ? 'bottom' : 'top'
  }

  const change = (next: (size: Size, now: StillWindow) => StillWindow): void => {
    if (pyramid === null || window === null) return
    window = next(pyramid.still, window)
    redraw()
  }

  const fitBox = (): void => {
    if (elements === null) return
    const { clientWidth, clientHeight } = elements.box
    const was = box
    box = { width: Math.max(1, clientWidth), height: Math.max(1, clientHeight) }
    const { canvas } = elements
    canvas.width = Math.round(box.width * devicePixelRatio)
    canvas.height = Math.round(box.height * devicePixelRatio)
    const wasWhole =
      window !== null &&
      pyramid !== null &&
      Math.abs(window.scale / wholeWindow(pyramid.still, was).scale - 1) < 0.01
    change((size, now) => (wasWhole ? wholeWindow(size, box) : inOtherBox(now, was, size, box)))
    // At once: a canvas whose size changed is empty until it is drawn.
    paint()
  }

  return {
    attach(given) {
      elements = given
      const observer = new ResizeObserver(fitBox)
      observer.observe(given.box)
      fitBox()
      const stop = store.listen(redraw)
      return () => {
        observer.disconnect()
        stop()
        elements = null
      }
    },
    redraw,
    zoom: (factor, at) =>
      change((size, now) => zoomAbout(now, at ?? [box.width / 2, box.height / 2], factor, size, box)),
    pan: (by) => change((size, now) => panBy(now, by, size, box)),
    whole: () => change((size) => wholeWindow(size, box)),
    pixels: () =>
      change((size, now) =>
        windowAround(toStill(now, [box.width / 2, box.height / 2]), 1 / devicePixelRatio, size, box),
      ),
    place: () =>
      change((size, now) => {
        const still = stillOf(store.state, store.state.current)
        return still === null ? now : openingWindow(store.state, still, size, box)
      }),
    hover(at) {
      cursor = at === null || window === null ? null : toStill(window, at)
      redraw()
    },
    moveCursor([dx, dy]) {
      if (window === null || pyramid === null) return
      const { width, height } = pyramid.still
      const from = cursor ?? toStill(window, [box.width / 2, box.height / 2])
      cursor = [
        Math.max(0, Math.min(width, from[0] + dx / window.scale)),
        Math.max(0, Math.min(height, from[1] + dy / window.scale)),
      ]
      const [x, y] = toScreen(window, cursor)
      if (x < 20 || y < 20 || x > box.width - 20 || y > box.height - 20) {
        const middle = cursor
        change((size, now) => windowAround(middle, now.scale, size, box))
      }
      redraw()
    },
    clickCursor() {
      if (cursor !== null) clickPoint(store, cursor)
    },
    pointNear(at, within) {
      const still = stillOf(store.state, store.state.current)
      if (window === null || still === null || pickOf(store.state, still) === null) return null
      let best: { index: number; at: Point; far: number } | null = null
      for (const [index, point] of shownPoints(store.state).entries()) {
        const place = toScreen(window, point)
        const far = Math.hypot(place[0] - at[0], place[1] - at[1])
        if (far <= within && (best === null || far < best.far)) best = { index, at: place, far }
      }
      return best
    },
    stillAt: (at) => (window === null ? null : toStill(window, at)),
  }
}
