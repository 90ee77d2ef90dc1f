import type { Ends, Quad } from '../math/point.js'

/** How the points were got: clicked by a hand, snapped to the edges around, or found on a chart. */
export type PickMethod = 'hand' | 'snapped' | 'found'

/** What is known of the points' noise: one standard deviation per axis, or their full covariance in the order x1, y1, x2, y2, ... */
interface PickNoise {
  readonly method: PickMethod
  /** Standard deviation per axis, px. */
  readonly sigmaPx: number
  /** px^2, 8x8 for corners, 4x4 for ends; overrides `sigmaPx`. */
  readonly covariancePx2?: readonly (readonly number[])[]
}

/** The image points of a reference. */
export type Pick =
  | (PickNoise & { readonly kind: 'corners'; readonly corners: Quad })
  | (PickNoise & { readonly kind: 'ends'; readonly ends: Ends })

/** Standard deviation per axis of a corner clicked by hand, px: this project's convention. */
export const HAND_SIGMA_PX = 0.5
