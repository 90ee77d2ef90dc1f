import { clampRegion } from './clampRegion.js'
import type { Raster, StillPixels } from './raster.js'

/** A still whose whole luma is at hand: its regions are cut from that, so that nothing is decoded twice. */
export function decodedStill(still: StillPixels, whole: Raster): StillPixels {
  return {
    width: still.width,
    height: still.height,
    bitDepth: still.bitDepth,
    region(asked): Promise<Raster> {
      const region = clampRegion(asked, whole.width, whole.height)
      const data = new Float32Array(region.width * region.height)
      for (let row = 0; row < region.height; row += 1) {
        const from = (region.top + row) * whole.width + region.left
        data.set(whole.data.subarray(from, from + region.width), row * region.width)
      }
      return Promise.resolve({ ...region, data })
    },
  }
}
