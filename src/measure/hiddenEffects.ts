import type { Quad } from '../math/point.js'
import type { Raster } from '../still/raster.js'
import { coarseLevels } from './coarseLevels.js'
import { repeatedPixels } from './repeatedPixels.js'
import { resampled } from './resampled.js'
import type { Problem } from './stillMeasurement.js'

/**
 * What the pixels around a reference betray of the still's way here: repeated pixels, smooth up-scaling, coarse levels. Rows that lie apart are told with
 * the sharpness, which has the edges at hand. The raster is used whole; a caption burnt in or a size unlike the data sheet's is not seen here.
 */
export function hiddenEffects(raster: Raster, _corners: Quad): readonly Problem[] {
  const repeated = repeatedPixels(raster)
  return [repeated, repeated === null ? resampled(raster) : null, coarseLevels(raster)].filter(
    (problem) => problem !== null,
  )
}
