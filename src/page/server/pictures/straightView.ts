import { fitHomography } from '../../../math/fitHomography.js'
import { mapPoint } from '../../../math/homography.js'
import type { Point, Quad } from '../../../math/point.js'
import { rectangleCorners } from '../../../measure/pose/cornerDensity.js'
import type { PixelRegion } from '../../../still/raster.js'

/** 8-bit RGB of a region of a still. */
export interface ColourRegion {
  readonly region: PixelRegion
  readonly data: Uint8Array
}

/** A rectangle seen straight on, 8-bit RGB row by row. */
export interface StraightView {
  readonly width: number
  readonly height: number
  readonly data: Uint8Array
}

/** Sides of the view, px: as the still has it, but enough to be seen and no more than a screen shows. */
const LEAST_WIDTH_PX = 320
const MOST_WIDTH_PX = 960

/** Width of a straight view of a rectangle with these corners in the still, px: as many as its longer level side has there, within bounds. */
function straightWidth([a, b, c, d]: Quad): number {
  const longer = Math.max(Math.hypot(b[0] - a[0], b[1] - a[1]), Math.hypot(c[0] - d[0], c[1] - d[1]))
  return Math.round(Math.min(MOST_WIDTH_PX, Math.max(LEAST_WIDTH_PX, longer)))
}

/**
 * A rectangle of the given size (metres) seen straight on, from its corners in the still (px, clockwise from its own top left), by the homography through
 * them and linear sampling between pixel centres. Null where the corners are no view of a rectangle.
 */
export function straightView(
  colours: ColourRegion,
  corners: Quad,
  widthM: number,
  heightM: number,
): StraightView | null {
  const fit = fitHomography(rectangleCorners(widthM, heightM), corners)
  if (!fit.ok) return null
  const width = straightWidth(corners)
  const height = Math.max(1, Math.min(2 * MOST_WIDTH_PX, Math.round((width * heightM) / widthM)))
  const data = new Uint8Array(width * height * 3)
  for (let row = 0; row < height; row++) {
    const y = ((row + 0.5) / height - 0.5) * heightM
    for (let column = 0; column < width; column++) {
      const x = ((column + 0.5) / width - 0.5) * widthM
      sample(colours, mapPoint(fit.value.homography, x, y), data, (row * width + column) * 3)
    }
  }
  return { width, height, data }
}

function sample({ region, data }: ColourRegion, [x, y]: Point, out: Uint8Array, at: number): void {
  const clamp = (value: number, most: number): number => Math.max(0, Math.min(most, value))
  const u = clamp(x - region.left - 0.5, region.width - 1)
  const v = clamp(y - region.top - 0.5, region.height - 1)
  const [left, top] = [Math.floor(u), Math.floor(v)]
  const right = Math.min(left + 1, region.width - 1)
  const bottom = Math.min(top + 1, region.height - 1)
  const [s, t] = [u - left, v - top]
  for (let colour = 0; colour < 3; colour++) {
    const code = (column: number, row: number): number => data[(row * region.width + column) * 3 + colour]!
    const upper = code(left, top) * (1 - s) + code(right, top) * s
    const lower = code(left, bottom) * (1 - s) + code(right, bottom) * s
    out[at + colour] = Math.round(upper * (1 - t) + lower * t)
  }
}
