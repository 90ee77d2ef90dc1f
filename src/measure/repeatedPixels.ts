import type { Raster } from '../still/raster.js'
import { differenceProfile, rhythmOf } from './differencePhases.js'
import type { Problem } from './stillMeasurement.js'

/** Repeated pixels leave differences of less than this share of the others', which must themselves be more than rounding: this project's convention. */
const REPEATED_SHARE = 0.2
const LEAST_DIFFERENCE_SQUARE = 0.35

/**
 * Whether a still was scaled up by repeating pixels, twofold to fourfold or one in two or three: every such pair of columns (or rows) is alike, the others are not.
 * Null where it was not, or where no noise or texture shows it.
 */
export function repeatedPixels(raster: Raster): Problem | null {
  for (const across of [true, false]) {
    const profile = differenceProfile(raster, across, 1)
    for (const period of [2, 3, 4] as const) {
      const rhythm = rhythmOf(profile, period)
      if (rhythm === null || !rhythm.steady || rhythm.strongest < LEAST_DIFFERENCE_SQUARE) continue
      if (rhythm.weakest > REPEATED_SHARE * rhythm.strongest) continue
      return {
        code: 'repeated-pixels',
        message: `pixels are repeated every ${period} ${across ? 'columns' : 'rows'}: the still was scaled up, and its pixels are not the camera's`,
      }
    }
  }
  return null
}
