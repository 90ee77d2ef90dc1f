import type { Quad } from '../math/point.js'
import type { Raster } from '../still/raster.js'

/** The part of a raster that holds an outline (image coordinates, px) and `marginPx` about it; empty where they lie apart. */
export function rasterAround(raster: Raster, corners: Quad, marginPx: number): Raster {
  const xs = corners.map(([x]) => x - raster.left)
  const ys = corners.map(([, y]) => y - raster.top)
  const first = Math.max(0, Math.floor(Math.min(...xs) - marginPx))
  const top = Math.max(0, Math.floor(Math.min(...ys) - marginPx))
  const width = Math.max(0, Math.min(raster.width, Math.ceil(Math.max(...xs) + marginPx)) - first)
  const height = Math.max(0, Math.min(raster.height, Math.ceil(Math.max(...ys) + marginPx)) - top)
  const data = new Float32Array(width * height)
  for (let j = 0; j < height; j += 1) {
    const from = (top + j) * raster.width + first
    data.set(raster.data.subarray(from, from + width), j * width)
  }
  return { left: raster.left + first, top: raster.top + top, width, height, data }
}
