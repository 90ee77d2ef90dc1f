import type { Point } from '../../../math/point.js'
import type { Desk } from './desk.js'
import { clickPoint, dropPoint, movePoint } from './editPoints.js'
import type { PageStore } from '../state/pageStore.js'

/** Less movement than this is a click, CSS px; a finger is less steady than a mouse. */
const CLICK_WITHIN = { mouse: 4, touch: 10 } as const
/** A hand this near a point means it, CSS px. */
const GRAB_WITHIN = { mouse: 16, touch: 30 } as const

type Hand =
  | { readonly kind: 'point'; readonly index: number; readonly offset: Point; moved: boolean }
  | { readonly kind: 'still'; moved: boolean }

/** Wheel, mouse, pen and fingers on the large still: zoom about the pointer, pan, pinch, click, drag a point. Returns how to stop. */
export function deskGestures(store: PageStore, desk: Desk, box: HTMLElement): () => void {
  const down = new Map<number, Point>()
  let hand: Hand | null = null
  let start: Point = [0, 0]
  let pinch: { readonly middle: Point; readonly span: number } | null = null

  const placeOf = (event: MouseEvent): Point => {
    const { left, top } = box.getBoundingClientRect()
    return [event.clientX - left, event.clientY - top]
  }
  const kindOf = (event: PointerEvent): 'mouse' | 'touch' =>
    event.pointerType === 'touch' ? 'touch' : 'mouse'
  const pinchOf = (): { middle: Point; span: number } | null => {
    const [a, b] = [...down.values()]
    if (a === undefined || b === undefined) return null
    return { middle: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2], span: Math.hypot(a[0] - b[0], a[1] - b[1]) }
  }

  const press = (event: PointerEvent): void => {
    if (event.button !== 0) return
    const at = placeOf(event)
    box.setPointerCapture(event.pointerId)
    down.set(event.pointerId, at)
    if (down.size === 2) {
      if (hand?.kind === 'point' && hand.moved) dropPoint(store)
      hand = null
      pinch = pinchOf()
      desk.hover(null)
      return
    }
    start = at
    const near = desk.pointNear(at, GRAB_WITHIN[kindOf(event)])
    if (near === null) hand = { kind: 'still', moved: false }
    else {
      // The point keeps its distance from the finger, so that it does not jump and is not covered.
      hand = {
        kind: 'point',
        index: near.index,
        offset: [near.at[0] - at[0], near.at[1] - at[1]],
        moved: false,
      }
      store.put({ point: near.index })
    }
  }

  const move = (event: PointerEvent): void => {
    const at = placeOf(event)
    const before = down.get(event.pointerId)
    if (before !== undefined) down.set(event.pointerId, at)
    if (pinch !== null && before !== undefined) {
      const next = pinchOf()
      if (next === null) return
      // Zoomed first: a still that fits its box whole cannot be panned.
      desk.zoom(next.span / Math.max(1, pinch.span), pinch.middle)
      desk.pan([next.middle[0] - pinch.middle[0], next.middle[1] - pinch.middle[1]])
      pinch = next
      return
    }
    if (hand === null || before === undefined) {
      desk.hover(at)
      return
    }
    if (!hand.moved && Math.hypot(at[0] - start[0], at[1] - start[1]) < CLICK_WITHIN[kindOf(event)]) return
    if (hand.kind === 'point') {
      const to = desk.stillAt([at[0] + hand.offset[0], at[1] + hand.offset[1]])
      if (to !== null) movePoint(store, hand.index, to)
    } else {
      desk.pan(hand.moved ? [at[0] - before[0], at[1] - before[1]] : [at[0] - start[0], at[1] - start[1]])
      desk.hover(kindOf(event) === 'mouse' ? at : null)
    }
    hand.moved = true
  }

  const release = (event: PointerEvent): void => {
    if (!down.delete(event.pointerId)) return
    if (pinch !== null) {
      if (down.size === 0) pinch = null
      return
    }
    const held = hand
    hand = null
    if (held === null) return
    if (held.kind === 'point') {
      if (held.moved) dropPoint(store)
    } else if (!held.moved && event.type === 'pointerup') {
      const at = desk.stillAt(placeOf(event))
      store.put({ point: null })
      if (at !== null) clickPoint(store, at)
    }
  }

  const wheel = (event: WheelEvent): void => {
    event.preventDefault()
    const lines = event.deltaMode === 1 ? 16 : 1
    // A pinch on a touchpad arrives as a wheel with ctrl, in smaller steps.
    const speed = event.ctrlKey ? 0.01 : 0.0018
    desk.zoom(Math.exp(-event.deltaY * lines * speed), placeOf(event))
    desk.hover(placeOf(event))
  }

  const leave = (event: PointerEvent): void => {
    if (event.pointerType === 'mouse' && hand === null) desk.hover(null)
  }

  box.addEventListener('pointerdown', press)
  box.addEventListener('pointermove', move)
  box.addEventListener('pointerup', release)
  box.addEventListener('pointercancel', release)
  box.addEventListener('pointerleave', leave)
  box.addEventListener('wheel', wheel, { passive: false })
  return () => {
    box.removeEventListener('pointerdown', press)
    box.removeEventListener('pointermove', move)
    box.removeEventListener('pointerup', release)
    box.removeEventListener('pointercancel', release)
    box.removeEventListener('pointerleave', leave)
    box.removeEventListener('wheel', wheel)
  }
}
