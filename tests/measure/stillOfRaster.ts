import { decodedStill } from '../../src/still/decodedStill.js'
import type { Raster, StillPixels } from '../../src/still/raster.js'

/** A still that is all of a raster. */
export function stillOf(raster: Raster): StillPixels {
  const { width, height } = raster
  return decodedStill({ width, height, bitDepth: 8, region: () => Promise.resolve(raster) }, raster)
}
