import type { PixelRegion } from '../../still/raster.js'
import { stationPosition, viewDirection, type CameraStation } from './cameraStation.js'
import { coveredRegion } from './coveredRegion.js'
import { gatherPixels } from './gatherPixels.js'
import type { LinearImage } from './linearImage.js'
import { opticsKernel } from './opticsKernel.js'
import type { PlanarTarget, SurfaceSample } from './planarTarget.js'
import { along, cross, dot } from './worldVector.js'

/** A factor on the light of a target: one for all, or red, green, blue. */
export type TargetLight = number | readonly [red: number, green: number, blue: number]

/** How a target is drawn: fine samples per pixel and axis, the Gaussian blur of the optics, and a factor on its light, one or one per colour (1 when left out). */
export interface PaintOptions {
  readonly perPixel: number
  readonly blurSigmaPx: number
  readonly light?: TargetLight
}

/**
 * Paints a target over a picture in linear light, in place: true area sampling and the optics' Gaussian blur. The blur is
 * the target's and its outline's; what lies under it is taken as it is, blurred before and even around the outline. The ray
 * through every pixel corner is exact, fine samples lie bilinearly between (under 1e-4 px off for a pixel of under a
 * milliradian). Returns the region painted, null where it lies outside the picture.
 */
export function paintTarget(
  image: LinearImage,
  station: CameraStation,
  target: PlanarTarget,
  options: PaintOptions,
): PixelRegion | null {
  const kernel = opticsKernel(options.blurSigmaPx, options.perPixel)
  const region = coveredRegion(station, target, kernel.reachPx + 1, image)
  if (region === null) return null
  const values = image.channels === 1 ? 2 : 4
  const fine = fineSamples(station, target, region, kernel.reachPx, options.perPixel, values)
  const blurred = gatherPixels(fine, region, kernel, options.perPixel, values)
  const factor = options.light ?? 1
  const light = typeof factor === 'number' ? ([factor, factor, factor] as const) : factor
  for (let y = 0; y < region.height; y += 1) {
    for (let x = 0; x < region.width; x += 1) {
      const from = (y * region.width + x) * values
      const at = ((region.top + y - image.top) * image.width + region.left + x - image.left) * image.channels
      const open = 1 - blurred[from + values - 1]!
      for (let channel = 0; channel < image.channels; channel += 1) {
        image.data[at + channel] =
          image.data[at + channel]! * open + blurred[from + channel]! * light[channel]!
      }
    }
  }
  return region
}

/** Premultiplied red, green, blue and coverage on the fine grid of a region widened by `reachPx`; red and coverage alone where two values are asked for. */
function fineSamples(
  station: CameraStation,
  target: PlanarTarget,
  region: PixelRegion,
  reachPx: number,
  perPixel: number,
  values: 2 | 4,
): Float32Array {
  const columns = region.width + 2 * reachPx
  const rows = region.height + 2 * reachPx
  const place = planeCoordinates(station, target, region, reachPx)
  const fine = new Float32Array(columns * rows * perPixel * perPixel * values)
  const sample: SurfaceSample = { red: 0, green: 0, blue: 0, coverage: 0 }
  for (let row = 0; row < rows; row += 1) {
    for (let column = 0; column < columns; column += 1) {
      const a = (row * (columns + 1) + column) * 2
      const b = a + (columns + 1) * 2
      const [u00, v00, u10, v10] = [place[a]!, place[a + 1]!, place[a + 2]!, place[a + 3]!]
      const [u01, v01, u11, v11] = [place[b]!, place[b + 1]!, place[b + 2]!, place[b + 3]!]
      const boxU = Math.hypot(u10 - u00, u01 - u00) / perPixel
      const boxV = Math.hypot(v10 - v00, v01 - v00) / perPixel
      const nearU = target.halfWidthM + boxU
      const nearV = target.halfHeightM + boxV
      for (let j = 0; j < perPixel; j += 1) {
        const t = (j + 0.5) / perPixel
        for (let i = 0; i < perPixel; i += 1) {
          const s = (i + 0.5) / perPixel
          const u = (u00 * (1 - s) + u10 * s) * (1 - t) + (u01 * (1 - s) + u11 * s) * t
          const v = (v00 * (1 - s) + v10 * s) * (1 - t) + (v01 * (1 - s) + v11 * s) * t
          if (!(Math.abs(u) < nearU && Math.abs(v) < nearV)) continue
          target.surface(u, v, boxU, boxV, sample)
          const to = ((row * perPixel + j) * columns * perPixel + column * perPixel + i) * values
          fine[to] = sample.red * sample.coverage
          fine[to + values - 1] = sample.coverage
          if (values === 2) continue
          fine[to + 1] = sample.green * sample.coverage
          fine[to + 2] = sample.blue * sample.coverage
        }
      }
    }
  }
  return fine
}

/** (u, v), metres on the target's plane, where the ray through every pixel corner of the widened region meets it; NaN where it does not. */
function planeCoordinates(
  station: CameraStation,
  target: PlanarTarget,
  region: PixelRegion,
  reachPx: number,
): Float64Array {
  const columns = region.width + 2 * reachPx + 1
  const rows = region.height + 2 * reachPx + 1
  const place = new Float64Array(columns * rows * 2)
  const normal = cross(target.down, target.right)
  const toCentre = along(target.centre, stationPosition(station), -1)
  const height = dot(normal, toCentre)
  const centreU = dot(target.right, toCentre)
  const centreV = dot(target.down, toCentre)
  for (let row = 0; row < rows; row += 1) {
    for (let column = 0; column < columns; column += 1) {
      const at = (row * columns + column) * 2
      const point = [region.left - reachPx + column, region.top - reachPx + row] as const
      const direction = viewDirection(station, point)
      const scale = direction === null ? NaN : height / dot(normal, direction)
      place[at] = direction !== null && scale > 0 ? scale * dot(target.right, direction) - centreU : NaN
      place[at + 1] = direction !== null && scale > 0 ? scale * dot(target.down, direction) - centreV : NaN
    }
  }
  return place
}
