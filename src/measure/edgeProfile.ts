import type { Raster } from '../still/raster.js'
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

/** An empty profile reaching `reachPx` (whole px) to either side. */
export function emptyProfile(reachPx: number): EdgeProfile {
  const bins = 2 * reachPx * BINS_PER_PX
  return {
    reachPx,
    count: new Float64Array(bins),
    acrossSum: new Float64Array(bins),
    codeSum: new Float64Array(bins),
    codeSquareSum: new Float64Array(bins),
  }
}

/** Adds `times` (1 or -1) of one profile to another of the same reach. */
export function addProfile(into: EdgeProfile, other: EdgeProfile, times: 1 | -1 = 1): void {
  for (let bin = 0; bin < into.count.length; bin += 1) {
    into.count[bin]! += times * other.count[bin]!
    into.acrossSum[bin]! += times * other.acrossSum[bin]!
    into.codeSum[bin]! += times * other.codeSum[bin]!
    into.codeSquareSum[bin]! += times * other.codeSquareSum[bin]!
  }
}

/** The stretch of a side that is read, px along it, the number of equal segments it is cut into, and the reach to either side. */
export interface StripShape {
  readonly fromPx: number
  readonly toPx: number
  readonly segments: number
  readonly reachPx: number
}

/**
 * Gathers a strip's pixels into one profile per segment, each pixel once and as it is (no resampling). Pixels beyond the raster are missing.
 */
export function edgeProfiles(raster: Raster, line: SideLine, shape: StripShape): readonly EdgeProfile[] {
  const profiles = Array.from({ length: shape.segments }, () => emptyProfile(shape.reachPx))
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
  for (let i = from; i <= to; i += 1) {
    const along = (i - (upright ? startY : startX)) / step
    const centre =
      (upright ? startX : startY) + along * (upright ? ax : ay) + edgeAcrossPx(line, along) / cross
    const half = (shape.reachPx + 1) / Math.abs(cross)
    const first = Math.max(0, Math.floor(centre - half))
    const last = Math.min(across - 1, Math.ceil(centre + half))
    for (let j = first; j <= last; j += 1) {
      const x = (upright ? j : i) - startX
      const y = (upright ? i : j) - startY
      const at = x * ax + y * ay
      if (at < shape.fromPx || at >= shape.toPx) continue
      const distance = x * nx + y * ny - (level + at * (tilt + at * bow))
      const bin = Math.floor((distance + shape.reachPx) * BINS_PER_PX)
      if (bin < 0 || bin >= bins) continue
      const profile = profiles[Math.floor((at - shape.fromPx) * perPx)]!
      const code = data[upright ? i * raster.width + j : j * raster.width + i]!
      profile.count[bin]! += 1
      profile.acrossSum[bin]! += distance
      profile.codeSum[bin]! += code
      profile.codeSquareSum[bin]! += code * code
    }
  }
  return profiles
}
