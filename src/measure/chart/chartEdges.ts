import { chartFace, darkSlabCorners, lightSlabCorners } from '../../chart/printed/chartGeometry.js'
import type { ChartFit } from '../../chart/fit/chartFit.js'
import { viewPlaces } from '../../chart/fit/fitPixels.js'
import type { GreyImage } from '../../chart/match/greyImage.js'
import { mapPoint } from '../../math/homography.js'
import type { Point } from '../../math/point.js'

/** Bins of a quarter pixel, as ISO 12233 lays them. */
export const BINS_PER_PX = 4
/** How far from an edge its ground stays free of others, modules. */
const FREE_MODULES = 0.66

/** The profile across one slanted edge, dark to light. */
export interface EdgeSpread {
  /** Which way it looks: `horizontal` detail across an upright edge, `vertical` across a level one. */
  readonly direction: 'horizontal' | 'vertical'
  /** Mean light per quarter-pixel bin, the edge in the middle, and the pixels in each bin. */
  readonly light: Float64Array
  readonly counts: Int32Array
  readonly halfPx: number
  /** Shares of its pixels at white and at black. */
  readonly white: number
  readonly black: number
}

/**
 * The eight edges of the two slabs as oversampled profiles. The edge's place comes from the fitted map; `toLight` linearises code values.
 * Along each edge the ends are left out by as much as the window is long, so that no corner blurs into it.
 */
export function chartEdges(
  image: GreyImage,
  { map, view }: Pick<ChartFit, 'map' | 'view'>,
  face: number,
  toLight: (code: number) => number,
): EdgeSpread[] {
  const { leftUpright, rightUpright } = chartFace(face)
  const places = viewPlaces(view)
  const spreads: EdgeSpread[] = []
  for (const [corners, inside] of [
    [darkSlabCorners(leftUpright), -1],
    [lightSlabCorners(rightUpright), 1],
  ] as const) {
    const quad = corners.map((corner) => {
      const [x, y] = mapPoint(map, corner[0], corner[1])
      return places?.toStill(x, y) ?? ([x, y] as const)
    })
    for (let side = 0; side < 4; side += 1) {
      const length = Math.hypot(
        corners[(side + 1) % 4]![0] - corners[side]![0],
        corners[(side + 1) % 4]![1] - corners[side]![1],
      )
      const across = Math.hypot(
        corners[(side + 2) % 4]![0] - corners[(side + 1) % 4]![0],
        corners[(side + 2) % 4]![1] - corners[(side + 1) % 4]![1],
      )
      const spread = edgeSpread(image, quad[side]!, quad[(side + 1) % 4]!, quad[(side + 2) % 4]!, {
        length,
        halfShare: Math.min(FREE_MODULES, across / 2 - 0.05) / across,
        inside,
        toLight,
      })
      if (spread !== null) spreads.push(spread)
    }
  }
  return spreads
}

interface EdgeSetting {
  /** Length of the edge, modules. */
  readonly length: number
  /** Half the window as a share of the slab's size across the edge. */
  readonly halfShare: number
  /** 1 where the slab is lighter than its ground. */
  readonly inside: 1 | -1
  readonly toLight: (code: number) => number
}

function edgeSpread(
  image: GreyImage,
  a: Point,
  b: Point,
  next: Point,
  setting: EdgeSetting,
): EdgeSpread | null {
  const lengthPx = Math.hypot(b[0] - a[0], b[1] - a[1])
  const [tx, ty] = [(b[0] - a[0]) / lengthPx, (b[1] - a[1]) / lengthPx]
  // Clockwise as seen, so that the inside lies to the right of the way.
  const [nx, ny] = [-ty, tx]
  const depthPx = (next[0] - b[0]) * nx + (next[1] - b[1]) * ny
  const halfPx = depthPx * setting.halfShare
  const trimPx = Math.min(0.3 * lengthPx, (0.4 / setting.length) * lengthPx)
  const bins = 2 * Math.floor(halfPx * BINS_PER_PX)
  if (bins < 8) return null
  const light = new Float64Array(bins)
  const counts = new Int32Array(bins)
  const reach = halfPx + 1
  const xs = [a[0] - nx * reach, a[0] + nx * reach, b[0] - nx * reach, b[0] + nx * reach]
  const ys = [a[1] - ny * reach, a[1] + ny * reach, b[1] - ny * reach, b[1] + ny * reach]
  let [white, black, used] = [0, 0, 0]
  for (let j = Math.max(0, Math.floor(Math.min(...ys))); j < Math.min(image.height, Math.max(...ys)); j += 1)
    for (
      let i = Math.max(0, Math.floor(Math.min(...xs)));
      i < Math.min(image.width, Math.max(...xs));
      i += 1
    ) {
      const dx = i + 0.5 - a[0]
      const dy = j + 0.5 - a[1]
      const along = dx * tx + dy * ty
      if (along < trimPx || along > lengthPx - trimPx) continue
      const bin = Math.floor((dx * nx + dy * ny) * setting.inside * BINS_PER_PX + bins / 2)
      if (bin < 0 || bin >= bins) continue
      const code = image.data[j * image.width + i]!
      if (code >= 254.5) white += 1
      if (code <= 0.5) black += 1
      used += 1
      light[bin]! += setting.toLight(code)
      counts[bin]! += 1
    }
  if (used < bins) return null
  for (let bin = 0; bin < bins; bin += 1) light[bin] = counts[bin]! > 0 ? light[bin]! / counts[bin]! : NaN
  return {
    direction: Math.abs(nx) > Math.abs(ny) ? 'horizontal' : 'vertical',
    light,
    counts,
    halfPx: bins / 2 / BINS_PER_PX,
    white: white / used,
    black: black / used,
  }
}
