import type { Point } from '../../../math/point.js'
import { redo, takeBackClick, undo } from '../state/changeWalk.js'
import type { Desk } from './desk.js'
import { clearPoints, nudgePoint, turnPoints } from './editPoints.js'
import { isPlacing } from './shownPoints.js'
import type { PageStore } from '../state/pageStore.js'
import { singleKeys } from './singleKeys.js'
import { askSnap, dropSnap, takeSnap } from './snapOutline.js'
import { takeSuggestions } from '../strip/takeSuggestions.js'
import { nextToDo, stepStill } from '../state/walkThrough.js'

const ARROWS: Readonly<Record<string, Point>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
}
/** The cursor moves so far a key, and the picture under it, CSS px. */
const CURSOR_STEP = 24
const CURSOR_FINE = 2

/** The keys of the page, as the list of keys tells them. */
export function pageKeys(store: PageStore, desk: Desk): void {
  addEventListener('keydown', (event) => {
    const target = event.target instanceof HTMLElement ? event.target : null
    if (target?.matches('input:not([type=checkbox]), select, textarea') === true) return
    if (event.defaultPrevented || event.isComposing) return
    const isOurs = onDesk(store, desk, event, target) || command(store, desk, event, target)
    if (isOurs) event.preventDefault()
  })
}

/** Arrow keys and the space bar on the large still and its points. */
function onDesk(store: PageStore, desk: Desk, event: KeyboardEvent, target: HTMLElement | null): boolean {
  if (target === null || target.closest('.desk-box') === null) return false
  const arrow = ARROWS[event.key]
  if (arrow !== undefined) {
    const by = (step: number): Point => [arrow[0] * step, arrow[1] * step]
    if (store.state.point !== null) nudgePoint(store, by(event.shiftKey ? 0.1 : event.altKey ? 10 : 1))
    else if (!isPlacing(store.state)) desk.pan(by(-CURSOR_STEP * 2))
    else desk.moveCursor(by(event.shiftKey ? CURSOR_FINE : CURSOR_STEP))
    return true
  }
  if (event.key === ' ' && target.matches('.desk-box')) {
    desk.clickCursor()
    return true
  }
  return false
}

function command(store: PageStore, desk: Desk, event: KeyboardEvent, target: HTMLElement | null): boolean {
  if (event.ctrlKey || event.metaKey) {
    if (event.altKey) return false
    const key = event.key.toLowerCase()
    if (key === 'z') {
      if (event.shiftKey) redo(store)
      else undo(store)
      return true
    }
    if (key === 'y') {
      redo(store)
      return true
    }
    return false
  }
  if (event.altKey) return false
  if (event.key === 'Enter') {
    // A button, a link and a field have their own Enter.
    if (target !== null && target.closest('.desk-box, .strip') === null && target !== document.body)
      return false
    confirmAndGoOn(store)
    return true
  }
  if (event.key === 'Escape') {
    stepOut(store)
    return true
  }
  if (event.key === 'Backspace' || event.key === 'Delete') {
    if (store.state.room !== 'stills') return false
    clearPoints(store)
    return true
  }
  const act = singleKeys() ? SINGLE[event.key] : undefined
  if (act === undefined) return false
  act(store, desk)
  return true
}

/** Enter: confirms the outline that is shown, where one is, and goes on to the next still with work to do. */
function confirmAndGoOn(store: PageStore): void {
  const { snap } = store.state
  // An outline that is still being fitted is waited for: it shall be seen before it is taken.
  if (snap !== null && snap.answer === null) return
  takeSnap(store)
  nextToDo(store)
}

function stepOut(store: PageStore): void {
  const { keysShown, snap, point, moving } = store.state
  if (keysShown) store.put({ keysShown: false })
  else if (moving !== null) store.put({ moving: null })
  else if (snap !== null) dropSnap(store)
  else if (point !== null) store.put({ point: null })
  else takeBackClick(store)
}

function focusField(name: string): void {
  document.getElementById(`field-${name}`)?.focus()
}

const SINGLE: Readonly<Record<string, (store: PageStore, desk: Desk) => void>> = {
  n: (store) => nextToDo(store),
  '.': (store) => stepStill(store, 1),
  ',': (store) => stepStill(store, -1),
  s: (store) => {
    if (!takeSnap(store)) void askSnap(store)
  },
  t: (store) => turnPoints(store),
  y: (store) => takeSuggestions(store),
  u: (store) => undo(store),
  m: () => focusField('mark'),
  l: () => focusField('light'),
  r: () => focusField('reference'),
  '+': (_, desk) => desk.zoom(1.4),
  '=': (_, desk) => desk.zoom(1.4),
  '-': (_, desk) => desk.zoom(1 / 1.4),
  '0': (_, desk) => desk.whole(),
  '1': (_, desk) => desk.pixels(),
  f: (_, desk) => desk.place(),
  w: (store) => store.put({ room: store.state.room === 'walk' ? 'stills' : 'walk' }),
  '?': (store) => store.put({ keysShown: !store.state.keysShown }),
}
