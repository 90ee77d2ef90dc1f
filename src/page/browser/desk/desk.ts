import type { Point } from '../../../math/point.js'
import { clickPoint } from './editPoints.js'
import { clickSigmaPx, loupeScale, type Hand } from './clickSigma.js'
import { isFoundChart, shownPoints } from './shownPoints.js'
import { openingWindow } from './openingWindow.js'
import { paintDesk, type DeskElements, type ShownStill } from './paintDesk.js'
import type { PageStore } from '../state/pageStore.js'
import { stillOf } from '../state/shownPick.js'
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
import { tilePyramid } from './tilePyramid.js'

/** The cursor moved by keyboard stays this far within the box, CSS px. */
const CURSOR_MARGIN = 20

/** The large still: what of it is shown, and where the cursor is. Places on the screen are CSS px of the box. */
export class Desk {
  readonly #store: PageStore
  #elements: DeskElements | null = null
  #box: Size = { width: 1, height: 1 }
  #shown: ShownStill | null = null
  /** The file that is up and its version; empty: none. */
  #key = ''
  #cursor: Point | null = null
  /** Where the finger is that holds the loupe; null: none does. */
  #finger: Point | null = null
  #asked = false

  constructor(store: PageStore) {
    this.#store = store
  }

  /** Draws on these elements until the returned function is called. */
  attach(elements: DeskElements): () => void {
    this.#elements = elements
    const observer = new ResizeObserver(() => this.#fitBox(elements))
    observer.observe(elements.box)
    this.#fitBox(elements)
    const stop = this.#store.listen(() => this.#redraw())
    return () => {
      observer.disconnect()
      stop()
      this.#elements = null
    }
  }

  zoom(factor: number, at: Point = this.#middle()): void {
    this.#change((size, now) => zoomAbout(now, at, factor, size, this.#box))
  }

  pan(by: Point): void {
    this.#change((size, now) => panBy(now, by, size, this.#box))
  }

  whole(): void {
    this.#change((size) => wholeWindow(size, this.#box))
  }

  /** A pixel of the still on a pixel of the screen. */
  pixels(): void {
    this.#change((size, now) =>
      windowAround(toStill(now, this.#middle()), 1 / devicePixelRatio, size, this.#box),
    )
  }

  /** The points, or where they likely are. */
  place(): void {
    const { state } = this.#store
    const still = stillOf(state, state.current)
    if (still !== null) this.#change((size) => openingWindow(state, still, size, this.#box))
  }

  /** Where the pointer is over the box; null: nowhere. */
  hover(at: Point | null): void {
    this.#cursor = at === null ? null : this.stillAt(at)
    this.#finger = null
    this.#redraw()
  }

  /** Holds the loupe over a finger, on a place of the still (px). */
  aim(finger: Point, at: Point): void {
    this.#cursor = at
    this.#finger = finger
    this.#redraw()
  }

  /** CSS px that a px of the still has in a loupe over a finger just now. */
  loupeScale(): number {
    return loupeScale(this.#shown?.window.scale ?? 1)
  }

  /** Moves the cursor by keyboard and keeps it in view. */
  moveCursor([dx, dy]: Point): void {
    if (this.#shown === null) return
    const { window, pyramid } = this.#shown
    const { width, height } = pyramid.still
    const from = this.#cursor ?? toStill(window, this.#middle())
    const cursor: Point = [
      Math.max(0, Math.min(width, from[0] + dx / window.scale)),
      Math.max(0, Math.min(height, from[1] + dy / window.scale)),
    ]
    this.#cursor = cursor
    const [x, y] = toScreen(window, cursor)
    const [right, bottom] = [this.#box.width - CURSOR_MARGIN, this.#box.height - CURSOR_MARGIN]
    if (x < CURSOR_MARGIN || y < CURSOR_MARGIN || x > right || y > bottom)
      this.#change((size, now) => windowAround(cursor, now.scale, size, this.#box))
    this.#redraw()
  }

  clickCursor(): void {
    if (this.#cursor !== null) this.click(this.#cursor, 'mouse')
  }

  /** Places a point, px of the still. */
  click(point: Point, by: Hand): void {
    clickPoint(this.#store, { point, sigmaPx: this.sigmaPx(by) })
  }

  /** How well a hand places a point just now, px of the still. */
  sigmaPx(by: Hand): number {
    return clickSigmaPx(by, this.#shown?.window.scale ?? 1)
  }

  /** The index of the point that a hand at this place means, and where that point is on the screen; null: none near. */
  pointNear(at: Point, within: number): { readonly index: number; readonly at: Point } | null {
    const { state } = this.#store
    const still = stillOf(state, state.current)
    if (this.#shown === null || still === null || isFoundChart(state)) return null
    let best: { index: number; at: Point; far: number } | null = null
    for (const [index, point] of shownPoints(state).entries()) {
      const place = toScreen(this.#shown.window, point)
      const far = Math.hypot(place[0] - at[0], place[1] - at[1])
      if (far <= within && (best === null || far < best.far)) best = { index, at: place, far }
    }
    return best
  }

  /** The place of the still there, px of the still; null where no still is up. */
  stillAt(at: Point): Point | null {
    return this.#shown === null ? null : toStill(this.#shown.window, at)
  }

  #middle(): Point {
    return [this.#box.width / 2, this.#box.height / 2]
  }

  #change(next: (size: Size, now: StillWindow) => StillWindow): void {
    if (this.#shown === null) return
    const { pyramid, window } = this.#shown
    this.#shown = { pyramid, window: next(pyramid.still, window) }
    this.#redraw()
  }

  /** Draws anew with the next frame. */
  #redraw(): void {
    if (this.#asked || this.#elements === null) return
    this.#asked = true
    requestAnimationFrame(() => {
      this.#asked = false
      this.#paint()
    })
  }

  #paint(): void {
    if (this.#elements === null) return
    this.#follow()
    paintDesk(this.#store, this.#elements, this.#box, this.#shown, { at: this.#cursor, finger: this.#finger })
  }

  /** Takes the current still up where it is another one, or another version of it. */
  #follow(): void {
    const { state } = this.#store
    const still = stillOf(state, state.current)
    const key = still === null || still.head === null ? '' : `${still.file} ${still.stamp}`
    if (key === this.#key) return
    this.#key = key
    this.#cursor = null
    this.#finger = null
    this.#shown = null
    if (still === null || still.head === null) return
    const size: Size = { width: still.head.width, height: still.head.height }
    this.#shown = {
      pyramid: tilePyramid(still.file, still.stamp, size, () => this.#redraw()),
      window: openingWindow(state, still, size, this.#box),
    }
  }

  /** Follows a box that became larger or smaller: a still shown whole stays so. */
  #fitBox({ box, canvas }: DeskElements): void {
    const was = this.#box
    const now = { width: Math.max(1, box.clientWidth), height: Math.max(1, box.clientHeight) }
    this.#box = now
    canvas.width = Math.round(now.width * devicePixelRatio)
    canvas.height = Math.round(now.height * devicePixelRatio)
    this.#change((size, window) =>
      Math.abs(window.scale / wholeWindow(size, was).scale - 1) < 0.01
        ? wholeWindow(size, now)
        : inOtherBox(window, was, size, now),
    )
    // At once: a canvas whose size changed is empty until it is drawn.
    this.#paint()
  }
}
