import type { Quad } from '../math/point.js'
import type { PixelRegion } from '../still/raster.js'
import { sideLines } from './sideLine.js'

/**
 * How deep each pixel's centre lies inside a clockwise quadrilateral, px, row by row over the region: the least distance to its four sides
 * (as endless lines), negative outside.
 */
export function referenceDepth(region: PixelRegion, corners: Quad): Float32Array {
  const depth = new Float32Array(region.width * region.height).fill(Infinity)
  for (const { from, outward } of sideLines(corners)) {
    const [nx, ny] = outward
    for (let j = 0; j < region.height; j += 1) {
      const start = (from[0] - region.left - 0.5) * nx + (from[1] - region.top - 0.5 - j) * ny
      for (let i = 0, at = j * region.width; i < region.width; i += 1, at += 1) {
        const inside = start - i * nx
        if (inside < depth[at]!) depth[at] = inside
      }
    }
  }
  return depth
}
