import { HAND_SIGMA_PX } from '../../../measure/reference/pick.js'

/** What places a point: a mouse or the keys, a bare finger, or a finger that holds a loupe. */
export type Hand = 'mouse' | 'touch' | 'loupe'

/** How well a mouse and a finger do on the screen, one standard deviation per axis, CSS px: this project's conventions. */
const MOUSE_PX = 0.6
const FINGER_PX = 5
/** A pixel of the still in the loupe, CSS px, at most where the still itself is shown smaller. */
export const LOUPE_PIXEL = 11

/** How large a loupe under a finger shows a px of a still that is shown at this scale, CSS px: as many times larger as a finger is less steady than a mouse. */
export function loupeScale(scale: number): number {
  return Math.max(scale, Math.min(LOUPE_PIXEL, (FINGER_PX / MOUSE_PX) * scale))
}

/** How well a hand places a point of a still shown at this scale (CSS px a px of the still): px of the still, no better than a careful hand close up. */
export function clickSigmaPx(by: Hand, scale: number): number {
  const onStill = by === 'mouse' ? MOUSE_PX / scale : FINGER_PX / (by === 'touch' ? scale : loupeScale(scale))
  return Math.max(HAND_SIGMA_PX, onStill)
}
