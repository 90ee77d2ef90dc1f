import type { WorldVector } from './worldVector.js'

/** What a flat thing shows at a place: linear light of three channels (1 = white at gain 1) and how much of the place it covers, 0..1. */
export interface SurfaceSample {
  red: number
  green: number
  blue: number
  coverage: number
}

/**
 * The look of a flat thing. Writes into `out` the MEAN over a box `widthM` x `heightM` about (uM, vM), metres from the
 * target's centre, u to its right and v down: whoever draws it antialiases it. A grey thing gives three equal channels;
 * only `red` is read where the picture has one channel.
 */
export type Surface = (uM: number, vM: number, widthM: number, heightM: number, out: SurfaceSample) => void

/** A flat thing in the scene. `right` and `down` are orthogonal unit vectors; the surface is asked only within the half extents (metres). */
export interface PlanarTarget {
  readonly centre: WorldVector
  readonly right: WorldVector
  readonly down: WorldVector
  readonly halfWidthM: number
  readonly halfHeightM: number
  readonly surface: Surface
}

/** The share of a box of size `lengthM` about `atM` that lies between `fromM` and `toM`, 0..1: the exact mean of a bar. */
export function shareWithin(atM: number, lengthM: number, fromM: number, toM: number): number {
  const low = Math.max(atM - lengthM / 2, fromM)
  const high = Math.min(atM + lengthM / 2, toM)
  return high > low ? Math.min(1, (high - low) / lengthM) : 0
}

/** A surface of one grey drawn by `linearAt` (same arguments and meaning as a surface's), covering the whole target of the given half extents. */
export function greySurface(
  halfWidthM: number,
  halfHeightM: number,
  linearAt: (uM: number, vM: number, widthM: number, heightM: number) => number,
): Surface {
  return (uM, vM, widthM, heightM, out) => {
    const level = linearAt(uM, vM, widthM, heightM)
    out.red = level
    out.green = level
    out.blue = level
    out.coverage =
      shareWithin(uM, widthM, -halfWidthM, halfWidthM) * shareWithin(vM, heightM, -halfHeightM, halfHeightM)
  }
}
