import { fault } from '../../sentences.js'
import { simulateSays } from '../sentences.js'
import type { PixelRegion } from '../../still/raster.js'
import { projectToImage, type CameraStation } from './cameraStation.js'
import type { PlanarTarget } from './planarTarget.js'
import { along } from './worldVector.js'

/** Points taken along each side of a target to find the region it covers; sides bend between its corners. */
const OUTLINE_STEPS = 12

/**
 * The whole pixels a target covers, widened by `marginPx` and cut to the picture; null where nothing is left.
 * @throws `ProofwalkError` `out-of-view` where the target's outline has no image on the lens
 */
export function coveredRegion(
  station: CameraStation,
  target: PlanarTarget,
  marginPx: number,
  picture: PixelRegion,
): PixelRegion | null {
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity]
  for (let step = 0; step <= OUTLINE_STEPS; step += 1) {
    const s = (2 * step) / OUTLINE_STEPS - 1
    for (const [a, b] of [
      [s, -1],
      [s, 1],
      [-1, s],
      [1, s],
    ] as const) {
      const u = along(target.centre, target.right, a * target.halfWidthM)
      const point = projectToImage(station, along(u, target.down, b * target.halfHeightM))
      if (point === null) throw fault(simulateSays['out-of-view']())
      left = Math.min(left, point[0])
      right = Math.max(right, point[0])
      top = Math.min(top, point[1])
      bottom = Math.max(bottom, point[1])
    }
  }
  const x = Math.floor(left) - marginPx
  const y = Math.floor(top) - marginPx
  const wide = {
    left: x,
    top: y,
    width: Math.ceil(right) + marginPx - x,
    height: Math.ceil(bottom) + marginPx - y,
  }
  return clip(wide, picture)
}

/** The part of a region inside a picture, or null. */
function clip(region: PixelRegion, image: PixelRegion): PixelRegion | null {
  const left = Math.max(region.left, image.left)
  const top = Math.max(region.top, image.top)
  const width = Math.min(region.left + region.width, image.left + image.width) - left
  const height = Math.min(region.top + region.height, image.top + image.height) - top
  return width > 0 && height > 0 ? { left, top, width, height } : null
}
