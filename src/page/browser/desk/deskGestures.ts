import type { Point } from '../../../math/point.js'
import type { Desk } from './desk.js'
import { dropPoint, movePoint } from './editPoints.js'
import { isPlacing, shownPoints } from './shownPoints.js'
import type { PageStore } from '../state/pageStore.js'

/** Less movement than this is a click, CSS px; a finger is less steady than a mouse. */
const CLICK_WITHIN = { mouse: 4, touch: 10 } as const
/** A hand this near a point means it, CSS px. */
const GRAB_WITHIN = { mouse: 16, touch: 30 } as const

/** A finger that rests so long holds the loupe, ms. */
const HOLD_MS = 350
/** Nearer to a placed point a click is the same one again, CSS px. */
const SAME_WITHIN = 6

type Hand =
  | { readonly kind: 'point'; readonly index: number; readonly offset: Point; moved: boolean }
  | { readonly kind: 'still'; moved: boolean }
  /** With the loupe: `at` is where it points, px of the still; `index` the point it moves, null: it is about to place one. */
  | { readonly kind: 'loupe'; readonly index: number | null; at: Point }

type Pointer = 'mouse' | 'touch'

type Pinch = { readonly middle: Point; readonly span: number }

/** Wheel, mouse, pen and fingers on the large still: zoom about the pointer, pan, pinch, click, drag a point. Returns how to stop. */
export function deskGestures(store: PageStore, desk: Desk, box: HTMLElement): () => void {
  const gestures = new Gestures(store, desk, box)
  const until = new AbortController()
  const { signal } = until
  box.addEventListener('pointerdown', (event) => gestures.press(event), { signal })
  box.addEventListener('pointermove', (event) => gestures.move(event), { signal })
  box.addEventListener('pointerup', (event) => gestures.release(event), { signal })
  box.addEventListener('pointercancel', (event) => gestures.release(event), { signal })
  box.addEventListener('pointerleave', (event) => gestures.leave(event), { signal })
  box.addEventListener('wheel', (event) => gestures.wheel(event), { signal, passive: false })
  // A finger that rests holds the loupe, and asks for no menu.
  box.addEventListener('contextmenu', (event) => event.preventDefault(), { signal })
  return () => until.abort()
}

class Gestures {
  readonly #store: PageStore
  readonly #desk: Desk
  readonly #box: HTMLElement
  /** Where each pointer that is down is. */
  readonly #down = new Map<number, Point>()
  #hand: Hand | null = null
  #start: Point = [0, 0]
  #pinch: Pinch | null = null
  #holding: ReturnType<typeof setTimeout> | undefined

  constructor(store: PageStore, desk: Desk, box: HTMLElement) {
    this.#store = store
    this.#desk = desk
    this.#box = box
  }

  press(event: PointerEvent): void {
    if (event.button !== 0) return
    const at = this.#placeOf(event)
    this.#box.setPointerCapture(event.pointerId)
    this.#down.set(event.pointerId, at)
    clearTimeout(this.#holding)
    if (this.#down.size === 2) {
      if (this.#hand?.kind === 'point' && this.#hand.moved)
        dropPoint(this.#store, this.#desk.sigmaPx(kindOf(event)))
      if (this.#hand?.kind === 'loupe') this.#store.put({ moving: null })
      this.#hand = null
      this.#pinch = pinchOf(this.#down)
      this.#desk.hover(null)
      return
    }
    this.#start = at
    if (event.pointerType === 'touch') this.#holding = setTimeout(() => this.#hold(at), HOLD_MS)
    const near = this.#desk.pointNear(at, GRAB_WITHIN[kindOf(event)])
    if (near === null) {
      this.#hand = { kind: 'still', moved: false }
      return
    }
    // The point keeps its distance from the finger, so that it does not jump and is not covered.
    const offset: Point = [near.at[0] - at[0], near.at[1] - at[1]]
    this.#hand = { kind: 'point', index: near.index, offset, moved: false }
    this.#store.put({ point: near.index })
  }

  move(event: PointerEvent): void {
    const at = this.#placeOf(event)
    const before = this.#down.get(event.pointerId)
    if (before !== undefined) this.#down.set(event.pointerId, at)
    if (before !== undefined && this.#pinch !== null) this.#spread(this.#pinch)
    else if (before === undefined || this.#hand === null) this.#desk.hover(at)
    else if (this.#hand.kind === 'loupe') this.#aim(this.#hand, before, at)
    else this.#drag(this.#hand, before, at, kindOf(event))
  }

  release(event: PointerEvent): void {
    clearTimeout(this.#holding)
    if (!this.#down.delete(event.pointerId)) return
    if (this.#pinch !== null) {
      if (this.#down.size === 0) this.#pinch = null
      return
    }
    const held = this.#hand
    this.#hand = null
    if (held?.kind === 'loupe') return this.#place(held, event.type === 'pointerup')
    if (held?.kind === 'point' && held.moved) dropPoint(this.#store, this.#desk.sigmaPx(kindOf(event)))
    // A small reference has its corners near each other: beside a placed one, what does not drag it places the next.
    const isClick = held?.kind === 'still' || (held?.kind === 'point' && this.#isBeside(held))
    if (!isClick || held.moved || event.type !== 'pointerup') return
    const at = this.#desk.stillAt(this.#placeOf(event))
    this.#store.put({ point: null })
    if (at !== null) this.#desk.click(at, kindOf(event))
  }

  wheel(event: WheelEvent): void {
    event.preventDefault()
    const lines = event.deltaMode === 1 ? 16 : 1
    // A pinch on a touchpad arrives as a wheel with ctrl, in smaller steps.
    const speed = event.ctrlKey ? 0.01 : 0.0018
    this.#desk.zoom(Math.exp(-event.deltaY * lines * speed), this.#placeOf(event))
    this.#desk.hover(this.#placeOf(event))
  }

  leave(event: PointerEvent): void {
    if (event.pointerType === 'mouse' && this.#hand === null) this.#desk.hover(null)
  }

  #isBeside({ offset: [dx, dy] }: Extract<Hand, { kind: 'point' }>): boolean {
    return isPlacing(this.#store.state) && Math.hypot(dx, dy) > SAME_WITHIN
  }

  /** A finger rests: it holds the loupe, on a placed point or, while points are placed, where it lies. */
  #hold(finger: Point): void {
    const held = this.#hand
    if (held === null || held.kind === 'loupe' || held.moved) return
    const isPoint = held.kind === 'point' && !this.#isBeside(held)
    if (!isPoint && !isPlacing(this.#store.state)) return
    const at = isPoint ? shownPoints(this.#store.state)[held.index] : this.#desk.stillAt(finger)
    if (at === undefined || at === null) return
    this.#store.put({ point: isPoint ? held.index : null })
    this.#hand = { kind: 'loupe', index: isPoint ? held.index : null, at }
    this.#desk.aim(finger, at)
  }

  /** In the loupe the still goes with the finger. */
  #aim(hand: Extract<Hand, { kind: 'loupe' }>, before: Point, finger: Point): void {
    const scale = this.#desk.loupeScale()
    hand.at = [hand.at[0] + (finger[0] - before[0]) / scale, hand.at[1] + (finger[1] - before[1]) / scale]
    if (hand.index !== null) movePoint(this.#store, hand.index, hand.at)
    this.#desk.aim(finger, hand.at)
  }

  #place({ index, at }: Extract<Hand, { kind: 'loupe' }>, isMeant: boolean): void {
    this.#desk.hover(null)
    if (!isMeant) return this.#store.put({ moving: null })
    if (index === null) this.#desk.click(at, 'loupe')
    else if (this.#store.state.moving !== null) dropPoint(this.#store, this.#desk.sigmaPx('loupe'))
  }

  #placeOf(event: MouseEvent): Point {
    const { left, top } = this.#box.getBoundingClientRect()
    return [event.clientX - left, event.clientY - top]
  }

  #spread({ middle, span }: Pinch): void {
    const next = pinchOf(this.#down)
    if (next === null) return
    // Zoomed first: a still that fits its box whole cannot be panned.
    this.#desk.zoom(next.span / Math.max(1, span), middle)
    this.#desk.pan([next.middle[0] - middle[0], next.middle[1] - middle[1]])
    this.#pinch = next
  }

  #drag(hand: Exclude<Hand, { kind: 'loupe' }>, before: Point, at: Point, by: Pointer): void {
    const start = this.#start
    if (!hand.moved && Math.hypot(at[0] - start[0], at[1] - start[1]) < CLICK_WITHIN[by]) return
    clearTimeout(this.#holding)
    if (hand.kind === 'point') {
      const to = this.#desk.stillAt([at[0] + hand.offset[0], at[1] + hand.offset[1]])
      if (to !== null) movePoint(this.#store, hand.index, to)
    } else {
      const from = hand.moved ? before : start
      this.#desk.pan([at[0] - from[0], at[1] - from[1]])
      this.#desk.hover(by === 'mouse' ? at : null)
    }
    hand.moved = true
  }
}

function kindOf(event: PointerEvent): Pointer {
  return event.pointerType === 'touch' ? 'touch' : 'mouse'
}

function pinchOf(down: ReadonlyMap<number, Point>): Pinch | null {
  const [a, b] = [...down.values()]
  if (a === undefined || b === undefined) return null
  return { middle: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2], span: Math.hypot(a[0] - b[0], a[1] - b[1]) }
}
