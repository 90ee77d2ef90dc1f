import type { Raster, StillPixels } from '../../src/still/raster.js'

/** A still of 4000 x 3000 px of which only a raster is known: whatever is asked of it, the raster is handed out. */
export function stillOf(raster: Raster): StillPixels {
  return { width: 4000, height: 3000, bitDepth: 8, region: () => Promise.resolve(raster) }
}
