import type { Raster } from '../../still/raster.js'
import { coarseLevels } from './coarseLevels.js'
import { combedRows } from './combedRows.js'
import { rasterDifferences } from './differencePhases.js'
import { repeatedPixels } from './repeatedPixels.js'
import { enlarged } from './enlarged.js'
import type { Problem } from '../stillMeasurement.js'

/**
 * What the pixels around a reference betray of the still's way here: repeated pixels, smooth up-scaling, rows of two fields, coarse levels. A caption
 * burnt in or a size unlike the data sheet's is not seen here.
 */
export function exportSigns(raster: Raster): readonly Problem[] {
  const differences = rasterDifferences(raster)
  const scaled = repeatedPixels(raster, differences) ?? enlarged(raster, differences)
  // Doubled rows stagger slanted edges, as two fields would.
  const combed = scaled === null ? combedRows(raster) : null
  return [scaled, combed, coarseLevels(raster)].filter((problem) => problem !== null)
}
