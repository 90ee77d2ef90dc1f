import type { Raster } from '../../still/raster.js'
import { keepsRhythm, rasterDifferences, type RasterDifferences } from './differencePhases.js'
import type { Problem } from '../stillMeasurement.js'
import { problem } from '../../sentences.js'
import { measureSays } from '../sentences.js'

/** Repeated pixels leave differences of less than this share of the others': this project's convention. */
const REPEATED_SHARE = 0.2

/**
 * Whether a still was scaled up by repeating pixels, twofold to fourfold or one in two or three: every such pair of columns (or rows) is alike, the others are not.
 * Null where it was not, or where no noise or texture shows it.
 */
export function repeatedPixels(
  raster: Raster,
  differences: RasterDifferences = rasterDifferences(raster),
): Problem | null {
  for (const way of ['alongRows', 'alongColumns'] as const) {
    for (const period of [2, 3, 4] as const) {
      if (!keepsRhythm(differences[way].first, period, REPEATED_SHARE)) continue
      return problem(measureSays['repeated-pixels'](period, way === 'alongRows' ? 'columns' : 'rows'))
    }
  }
  return null
}
