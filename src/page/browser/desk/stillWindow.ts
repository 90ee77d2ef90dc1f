import type { Point } from '../../../math/point.js'

/** Width and height, px. */
export interface Size {
  readonly width: number
  readonly height: number
}

/** Which part of a still a box on the screen shows. */
export interface StillWindow {
  /** CSS px on the screen a px of the still. */
  readonly scale: number
  /** Image coordinates of the box's top left corner, px of the still. */
  readonly left: number
  readonly top: number
}

/** A pixel of the still never gets larger on the screen than this, CSS px. */
const LARGEST_SCALE = 48

/** Where a point of the still is on the screen, CSS px from the box's top left. */
export function toScreen(window: StillWindow, [x, y]: Point): Point {
  return [(x - window.left) * window.scale, (y - window.top) * window.scale]
}

/** Which point of the still lies under a place on the screen. */
export function toStill(window: StillWindow, [x, y]: Point): Point {
  return [window.left + x / window.scale, window.top + y / window.scale]
}

/** The scale at which the whole still just fits its box. */
export function wholeScale(still: Size, box: Size): number {
  return Math.min(box.width / still.width, box.height / still.height)
}

/** The whole still, in the middle of its box. */
export function wholeWindow(still: Size, box: Size): StillWindow {
  return windowAround([still.width / 2, still.height / 2], wholeScale(still, box), still, box)
}

/** A window at a scale with a point of the still in its middle, as far as the still's edges allow. */
export function windowAround(middle: Point, scale: number, still: Size, box: Size): StillWindow {
  const held = heldScale(scale, still, box)
  return heldOver(
    { scale: held, left: middle[0] - box.width / held / 2, top: middle[1] - box.height / held / 2 },
    still,
    box,
  )
}

/** Zooms by a factor; the point of the still under `at` (CSS px of the box) stays under it. */
export function zoomAbout(
  window: StillWindow,
  at: Point,
  factor: number,
  still: Size,
  box: Size,
): StillWindow {
  const scale = heldScale(window.scale * factor, still, box)
  const [x, y] = toStill(window, at)
  return heldOver({ scale, left: x - at[0] / scale, top: y - at[1] / scale }, still, box)
}

/** Pans by CSS px: the still follows the hand. */
export function panBy(window: StillWindow, [dx, dy]: Point, still: Size, box: Size): StillWindow {
  return heldOver(
    { ...window, left: window.left - dx / window.scale, top: window.top - dy / window.scale },
    still,
    box,
  )
}

/** The same middle and scale in a box of another size. */
export function inOtherBox(window: StillWindow, was: Size, still: Size, box: Size): StillWindow {
  const middle = toStill(window, [was.width / 2, was.height / 2])
  return windowAround(middle, window.scale, still, box)
}

function heldScale(scale: number, still: Size, box: Size): number {
  const least = wholeScale(still, box)
  return Math.max(Math.min(least, LARGEST_SCALE), Math.min(LARGEST_SCALE, scale))
}

/** Keeps the still over the box: in its middle where it is smaller, half a box beyond its edges where it is larger, so that corners at the rim can be reached. */
function heldOver(window: StillWindow, still: Size, box: Size): StillWindow {
  return {
    scale: window.scale,
    left: heldStart(window.left, still.width, box.width / window.scale),
    top: heldStart(window.top, still.height, box.height / window.scale),
  }
}

function heldStart(start: number, still: number, shown: number): number {
  if (shown >= still * 0.999) return (still - shown) / 2
  const beyond = Math.min(shown / 2, still - shown)
  return Math.max(-beyond, Math.min(still - shown + beyond, start))
}
