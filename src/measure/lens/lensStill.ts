import type { Quad } from '../../math/point.js'

/** A rectangle of known size seen at a taped distance: what a lens is fitted to. */
export interface LensStill {
  /** Clockwise from the rectangle's own top left, px. */
  readonly corners: Quad
  /** px^2, in the order x1, y1 ... y4. */
  readonly covariancePx2: readonly (readonly number[])[]
  /** Whether a hand clicked them, so that the click bias is in them. */
  readonly clicked: boolean
  readonly light: string
  readonly reference: string
  readonly widthM: number
  readonly heightM: number
  readonly widthToleranceM: number
  readonly heightToleranceM: number
  /** Line of sight as taped, metres: stills of one light and distance share one draw of the tape. */
  readonly distanceM: number
}
