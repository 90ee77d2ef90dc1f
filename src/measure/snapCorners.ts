import { failure, type Outcome } from '../math/outcome.js'
import type { Quad } from '../math/point.js'
import type { StillPixels } from '../still/raster.js'
import type { RectangleReference } from './reference.js'
import type { Problem } from './stillMeasurement.js'

/** An outline fitted to the edges around it. */
export interface SnappedCorners {
  readonly corners: Quad
  /** px^2, x1, y1 ... y4. */
  readonly covariancePx2: readonly (readonly number[])[]
  /** Per axis, the mean over the corners. */
  readonly sigmaPx: number
  readonly residualPx: number
  readonly movedPx: number
  readonly remarks: readonly Problem[]
}

export type SnapFailure = 'snap-no-edge'

/** Not built yet: refuses. */
export function snapCorners(
  _still: StillPixels,
  _reference: RectangleReference,
  _corners: Quad,
): Promise<Outcome<SnappedCorners, SnapFailure>> {
  return Promise.resolve(failure('snap-no-edge', 'snapping is not built yet'))
}
