import type { Raster } from '../still/raster.js'
import { differenceProfile, rhythmOf } from './differencePhases.js'
import { finestShare } from './finestShare.js'
import type { Problem } from './stillMeasurement.js'

/** A smooth interpolation's rhythm: the weaker phase's differences are under this share of the others' (linear, twofold: 1/4). This project's convention. */
const RHYTHM_SHARE = 0.62
/** And above the old Nyquist frequency there is less than this share of the power below it. */
const EMPTY_SHARE = { 2: 0.1, 3: 0.2 }
const LEAST_DIFFERENCE_SQUARE = 0.35

/**
 * Whether a still was scaled up smoothly, twofold or by one half: its differences keep the rhythm of the interpolation, and the spectrum is empty above
 * the old Nyquist frequency. Both are asked for, because JPEG and noise reduction empty a spectrum too. Null where it was not, or cannot be told.
 */
export function resampled(raster: Raster): Problem | null {
  for (const across of [true, false]) {
    const profiles = ([1, 2] as const).map((order) => differenceProfile(raster, across, order))
    for (const [period, times] of [
      [2, 2],
      [3, 1.5],
    ] as const) {
      const keepsRhythm = profiles.some((profile) => {
        const rhythm = rhythmOf(profile, period)
        if (rhythm === null || !rhythm.steady || rhythm.strongest < LEAST_DIFFERENCE_SQUARE) return false
        return rhythm.weakest < RHYTHM_SHARE * rhythm.strongest
      })
      if (!keepsRhythm || finestShare(raster, across, 0.5 / times) > EMPTY_SHARE[period]) continue
      return {
        code: 'resampled',
        message: `the still was scaled up about ${times} times: there is no detail above its old pixels`,
      }
    }
  }
  return null
}
