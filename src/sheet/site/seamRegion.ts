import type { Point } from '../../math/point.js'
import type { PixelRegion } from '../../still/raster.js'

/** A still reduced to look at, row by row. */
interface Look {
  readonly width: number
  readonly height: number
  readonly luma: ArrayLike<number>
}

/** What is shown about the seam, shares of the still's sides, and by how much it is moved to find the best. */
const ACROSS = 1 / 4
const DOWN = 1 / 8
const STEP = 1 / 32
/** Who carries something hides the scene so many times as wide as it to either side, and as high. */
const AROUND = 3

/**
 * Where two stills of one size are best joined about an upright seam, px of the still: where there is much to see to the left of it in the one and to the right in the other,
 * off what is carried in either (`carried`, corners px) where that can be.
 */
export function seamRegion(
  [one, other]: readonly [Look, Look],
  { width, height }: { readonly width: number; readonly height: number },
  carried: readonly (readonly Point[])[],
): PixelRegion {
  const even = (size: number): number => 2 * Math.max(1, Math.round(size / 2))
  const [across, down] = [Math.min(width, even(ACROSS * width)), Math.min(height, even(DOWN * height))]
  const boxes = carried.map(aroundOf)
  let best: { readonly region: PixelRegion; readonly score: number } | null = null
  for (let top = 0; top + down <= height; top += Math.max(1, Math.round(STEP * height)))
    for (let left = 0; left + across <= width; left += Math.max(1, Math.round(STEP * width))) {
      const region = { left, top, width: across, height: down }
      const half = { ...region, width: across / 2 }
      const score =
        Math.min(
          variety(one, half, width, height),
          variety(other, { ...half, left: left + across / 2 }, width, height),
        ) - (boxes.some((box) => overlaps(box, region)) ? 1e9 : 0)
      if (best === null || score > best.score) best = { region, score }
    }
  return best!.region
}

/** How much light changes from pixel to pixel of the look over a region of the still. */
function variety(
  { width, height, luma }: Look,
  region: PixelRegion,
  ofWidth: number,
  ofHeight: number,
): number {
  const [left, right] = [region.left, region.left + region.width].map((x) =>
    Math.floor((x * width) / ofWidth),
  )
  const [top, bottom] = [region.top, region.top + region.height].map((y) =>
    Math.floor((y * height) / ofHeight),
  )
  let sum = 0
  for (let y = top!; y < bottom! - 1; y++)
    for (let x = left!; x < right! - 1; x++) {
      const here = luma[y * width + x]!
      sum += Math.abs(luma[y * width + x + 1]! - here) + Math.abs(luma[(y + 1) * width + x]! - here)
    }
  return sum
}

function aroundOf(corners: readonly Point[]): PixelRegion {
  const [xs, ys] = [corners.map(([x]) => x), corners.map(([, y]) => y)]
  const [left, top] = [Math.min(...xs), Math.min(...ys)]
  const [width, height] = [Math.max(...xs) - left, Math.max(...ys) - top]
  const side = AROUND * Math.max(width, height)
  return { left: left - side, top: top - side, width: width + 2 * side, height: height + 2 * side }
}

function overlaps(one: PixelRegion, other: PixelRegion): boolean {
  const apart = (a: number, b: number, c: number, d: number): boolean => a + b <= c || c + d <= a
  return (
    !apart(one.left, one.width, other.left, other.width) &&
    !apart(one.top, one.height, other.top, other.height)
  )
}
