import type { Ends, Quad } from '../../math/point.js'

/** How the points were got: clicked by a hand, snapped to the edges around, or found on a chart. */
export type PickMethod = 'hand' | 'snapped' | 'found'

/** What a fit doubted of an outline: a code, and the other outline that may be meant, px, in the order of the pick's own. */
export interface PickDoubt {
  readonly code: string
  readonly corners?: Quad | undefined
}

/** What is known of the points' noise: one standard deviation per axis, or their full covariance in the order x1, y1, x2, y2, ... */
interface PickNoise {
  readonly method: PickMethod
  /** Standard deviation per axis, px. */
  readonly sigmaPx: number
  /** px^2, 8x8 for corners, 4x4 for ends; overrides `sigmaPx`. */
  readonly covariancePx2?: readonly (readonly number[])[]
  /** The gravest first; the interval of density is the hull of all outlines. */
  readonly doubts?: readonly PickDoubt[]
}

/** Corners with the covariance of their coordinates x1, y1 ... y4, px^2. */
interface SeenCorners {
  readonly corners: Quad
  readonly covariancePx2: readonly (readonly number[])[]
}

/** The image points of a reference. */
export type Pick =
  | (PickNoise & {
      readonly kind: 'corners'
      readonly corners: Quad
      /**
       * Told where a found chart's bend was taken out: `corners` are then those of the plane that touches the chart at its middle, as large there as
       * the still shows it. `seen` is where the chart's own corners lie in the still, where its lens alone bent it; null where its paper did.
       */
      readonly flattened?: { readonly seen: SeenCorners | null }
    })
  | (PickNoise & { readonly kind: 'ends'; readonly ends: Ends })

/** Standard deviation per axis of a corner clicked by hand, px: this project's convention. */
export const HAND_SIGMA_PX = 0.5
