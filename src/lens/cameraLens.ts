/**
 * A lens of the projection family r = F g(t), g(t) = tan(p t)/p for p > 0, t for p = 0, sin(-p t)/(-p) for p < 0
 * (rectilinear p = 1, stereographic 1/2, equidistant 0, equisolid -1/2, orthographic -1).
 * `pixelsPerRadian` is F: px per radian at the centre, on the exported still.
 */
export interface CameraLens {
  readonly p: number
  readonly pixelsPerRadian: number
  /** Where the axis meets the still, px; the middle of the still unless measured. */
  readonly centreX: number
  readonly centreY: number
}
