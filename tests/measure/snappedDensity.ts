import { measureDensity } from '../../src/measure/density/density.js'
import type { RectangleReference } from '../../src/measure/reference/reference.js'
import type { SnappedCorners } from '../../src/measure/snap/snapCorners.js'

/** What a fitted outline measures, and whether both intervals hold the truth, px/m: far enough away that the lens and the start of the tape measure count for nothing. */
export function snappedDensity(
  reference: RectangleReference,
  { corners, covariancePx2, sigmaPx, doubts }: SnappedCorners,
  truth: number,
) {
  const pick = { kind: 'corners', method: 'snapped', corners, covariancePx2, sigmaPx, doubts } as const
  const measured = measureDensity(reference, pick, { stillWidth: 4000, stillHeight: 3000, distanceM: 60 })
  if (!measured.ok) throw new Error(measured.message)
  const { density } = measured.value
  const { horizontal, horizontalU, vertical, verticalU } = density
  const holds = Math.abs(horizontal! - truth) <= horizontalU! && Math.abs(vertical! - truth) <= verticalU!
  return { density, holds }
}
