import type { Raster } from '../../still/raster.js'
import { edgeAcrossPx, type SideLine } from './sideLine.js'

/** Bins per px across an edge. */
export const BINS_PER_PX = 4

/**
 * The pixels of a strip along an edge, gathered by their distance across it: per bin their count, the sum of their distances
 * (px, outward positive) and the sums of their code values and squares. Bin i covers distances from i / BINS_PER_PX - reachPx on.
 */
export interface EdgeProfile {
  readonly reachPx: number
  readonly count: Float64Array
  readonly acrossSum: Float64Array
  readonly codeSum: Float64Array
  readonly codeSquareSum: Float64Array
}

/** Empty profiles, `number` of them, reaching `reachPx` (whole px) to either side; they share one buffer. */
function emptyProfiles(number: number, reachPx: number): EdgeProfile[] {
  const bins = 2 * reachPx * BINS_PER_PX
  const all = new Float64Array(4 * bins * number)
  const profiles: EdgeProfile[] = []
  for (let from = 0; from < all.length; from += 4 * bins) {
    profiles.push({
      reachPx,
      count: all.subarray(from, from + bins),
      acrossSum: all.subarray(from + bins, from + 2 * bins),
      codeSum: all.subarray(from + 2 * bins, from + 3 * bins),
      codeSquareSum: all.subarray(from + 3 * bins, from + 4 * bins),
    })
  }
  return profiles
}

/** The sum of the profiles of these indices. */
export function pooledProfile(profiles: readonly EdgeProfile[], indices: readonly number[]): EdgeProfile {
  const pooled = emptyProfiles(1, profiles[0]!.reachPx)[0]!
  for (const index of indices) {
    const { count, acrossSum, codeSum, codeSquareSum } = profiles[index]!
    for (let bin = 0; bin < count.length; bin += 1) {
      pooled.count[bin]! += count[bin]!
      pooled.acrossSum[bin]! += acrossSum[bin]!
      pooled.codeSum[bin]! += codeSum[bin]!
      pooled.codeSquareSum[bin]! += codeSquareSum[bin]!
    }
  }
  return pooled
}

/** The stretch of a side that is read, px along it, the number of equal segments it is cut into, and the reach to either side. */
export interface StripShape {
  readonly fromPx: number
  readonly toPx: number
  readonly segments: number
  readonly reachPx: number
  /** One in so many of the raster's rows (columns, for a level side) is read. */
  readonly every: number
}

/**
 * Gathers a strip's pixels into one profile per segment, each pixel once and as it is (no resampling). Pixels beyond the raster are missing.
 */
export function edgeProfiles(raster: Raster, line: SideLine, shape: StripShape): readonly EdgeProfile[] {
  const profiles = emptyProfiles(shape.segments, shape.reachPx)
  const perPx = shape.segments / (shape.toPx - shape.fromPx)
  const [ax, ay] = line.along
  const [nx, ny] = line.outward
  const upright = Math.abs(nx) >= Math.abs(ny)
  const startX = line.from[0] - raster.left - 0.5
  const startY = line.from[1] - raster.top - 0.5
  // The strip crosses every row (or column, for a level side) it covers once; the walk follows the longer component of the side.
  const [step, cross] = upright ? [ay, nx] : [ax, ny]
  const [firstAt, lastAt] = [shape.fromPx, shape.toPx].map((at) => (upright ? startY : startX) + at * step)
  const margin = shape.reachPx + 2
  // The edge's own place across, as a polynomial of the place along in px.
  const bow = line.bowPx / line.lengthPx ** 2
  const tilt = line.slopePx / line.lengthPx - bow * line.lengthPx
  const level = line.offsetPx - line.slopePx / 2 + line.bowPx / 4
  const bins = 2 * shape.reachPx * BINS_PER_PX
  const data = raster.data
  const lines = upright ? raster.height : raster.width
  const across = upright ? raster.width : raster.height
  const from = Math.max(0, Math.floor(Math.min(firstAt!, lastAt!) - margin))
  const to = Math.min(lines - 1, Math.ceil(Math.max(firstAt!, lastAt!) + margin))
  // Along and across grow by these from one pixel of a line to the next.
  const [alongStep, acrossStep] = upright ? [ax, nx] : [ay, ny]
  const [rowStep, columnStep] = upright ? [raster.width, 1] : [1, raster.width]
  const half = (shape.reachPx + 1) / Math.abs(cross)
  const { fromPx, toPx, reachPx } = shape
  for (let i = from; i <= to; i += shape.every) {
    const along = (i - (upright ? startY : startX)) / step
    const centre =
      (upright ? startX : startY) + along * (upright ? ax : ay) + edgeAcrossPx(line, along) / cross
    const first = Math.max(0, Math.floor(centre - half))
    const last = Math.min(across - 1, Math.ceil(centre + half))
    const x = (upright ? first : i) - startX
    const y = (upright ? i : first) - startY
    let at = x * ax + y * ay
    let off = x * nx + y * ny + reachPx
    for (let j = first; j <= last; j += 1, at += alongStep, off += acrossStep) {
      if (at < fromPx || at >= toPx) continue
      const distance = off - (level + at * (tilt + at * bow))
      if (distance < 0) continue
      const bin = (distance * BINS_PER_PX) | 0
      if (bin >= bins) continue
      const profile = profiles[((at - fromPx) * perPx) | 0]!
      const code = data[i * rowStep + j * columnStep]!
      profile.count[bin]! += 1
      profile.acrossSum[bin]! += distance - reachPx
      profile.codeSum[bin]! += code
      profile.codeSquareSum[bin]! += code * code
    }
  }
  return profiles
}
