import type { Raster } from '../still/raster.js'
import { coarseLevels } from './coarseLevels.js'
import { rasterDifferences } from './differencePhases.js'
import { repeatedPixels } from './repeatedPixels.js'
import { resampled } from './resampled.js'
import type { Problem } from './stillMeasurement.js'

/**
 * What the pixels around a reference betray of the still's way here: repeated pixels, smooth up-scaling, coarse levels. Rows that lie apart are told with
 * the sharpness, which has the edges at hand. A caption burnt in or a size unlike the data sheet's is not seen here.
 */
export function hiddenEffects(raster: Raster): readonly Problem[] {
  const differences = rasterDifferences(raster)
  const scaled = repeatedPixels(raster, differences) ?? resampled(raster, differences)
  return [scaled, coarseLevels(raster)].filter((problem) => problem !== null)
}
