import { HAND_SIGMA_PX } from '../../../measure/reference/pick.js'

/** What places a point: a mouse or the keys, or a bare finger. */
export type Hand = 'mouse' | 'touch'

/** How well each does on the screen, one standard deviation per axis, CSS px: this project's conventions. */
const ON_SCREEN = { mouse: 0.6, touch: 5 } as const

/** How well a hand places a point of a still shown at this scale (CSS px a px of the still): px of the still, no better than a careful hand close up. */
export function clickSigmaPx(by: Hand, scale: number): number {
  return Math.max(HAND_SIGMA_PX, ON_SCREEN[by] / scale)
}
