import type { Raster } from '../../still/raster.js'
import { keepsRhythm, rasterDifferences, type RasterDifferences } from './differencePhases.js'
import { finestShare } from '../finestShare.js'
import type { Problem } from '../stillMeasurement.js'

/** A smooth interpolation's rhythm: the weaker phase's differences are under this share of the others' (linear, twofold: 1/4). This project's convention. */
const RHYTHM_SHARE = 0.62
/** And above the old Nyquist frequency there is less than this share of the power below it. */
const SCALES = [
  { period: 2, times: 2, emptyShare: 0.1 },
  { period: 3, times: 1.5, emptyShare: 0.2 },
] as const

/**
 * Whether a still was scaled up smoothly, twofold or by one half: its differences keep the rhythm of the interpolation, and the spectrum is empty above
 * the old Nyquist frequency. Both are asked for, because JPEG and noise reduction empty a spectrum too. Null where it was not, or cannot be told.
 */
export function resampled(
  raster: Raster,
  differences: RasterDifferences = rasterDifferences(raster),
): Problem | null {
  for (const way of ['alongRows', 'alongColumns'] as const) {
    const { first, second } = differences[way]
    for (const { period, times, emptyShare } of SCALES) {
      if (!keepsRhythm(first, period, RHYTHM_SHARE) && !keepsRhythm(second, period, RHYTHM_SHARE)) continue
      if (finestShare(raster, way === 'alongRows', 0.5 / times) > emptyShare) continue
      return {
        code: 'resampled',
        message: `the still was scaled up about ${times} times: there is no detail above its old pixels`,
      }
    }
  }
  return null
}
