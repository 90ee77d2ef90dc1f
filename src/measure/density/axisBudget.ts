import type { Quad } from '../../math/point.js'
import type { PickMethod } from '../reference/pick.js'
import type { AxisBudget } from '../stillMeasurement.js'

/** How far outside an edge people click, one standard deviation per end, px, both ends alike: this project's convention. */
export const CLICK_BIAS_PX = 0.2

/**
 * How far outside or inside an edge a fit puts it where the camera's tone curve is not the sRGB one it assumes, one standard deviation per end, px, all ends
 * alike: this project's convention, for a curve whose exponent is known as `ASSUMED_EXPONENT_U` says: its ends move an edge from near black to near white by 0.09 px at a blur of 0.8 px
 * (painted), which is 0.05 as a standard deviation.
 */
export const SNAP_BIAS_PX = 0.07

/** What is common to all ends of a pick, by how its points were got, px outward per end, one standard deviation. */
export function commonBiasPx(method: PickMethod): number {
  if (method === 'found') return 0
  return method === 'hand' ? CLICK_BIAS_PX : SNAP_BIAS_PX
}

/** Relative standard uncertainty of a size with a tolerance, a rectangular distribution of that half-width (JCGM 100:2008, 4.3.7). */
export function toleranceRel(toleranceM: number, sizeM: number): number {
  return toleranceM / sizeM / Math.sqrt(3)
}

/**
 * Expanded uncertainty U of one axis' density, px/m, 95 %: 2 u of what scatters or was drawn (corners, size, click bias; none of few degrees of
 * freedom), plus the bend's whole half-width. Through a known lens there is no bend, but what is unknown of that lens, squared in as a draw. The bend is added and not squared in (JCGM 100:2008, F.2.4.5, of corrections that
 * are not applied): a wide lens always reads low by nearly that much. Squared in, intervals of a board near a wide lens
 * covered 87 to 93 % in simulation; added, 95 to 98 %.
 */
export function expandedU(axis: AxisBudget): number {
  const scatterRel = Math.hypot(
    axis.cornersRel,
    axis.sizeRel,
    axis.clickBiasRel,
    ...(axis.lens?.loadsRel ?? []),
  )
  return axis.densityPxPerM * (2 * scatterRel + Math.sqrt(3) * axis.bendRel)
}

/** How x1, y1, ... y4 move where every side grows by one px at each of its ends. */
export function outwardShift(corners: Quad): number[] {
  return corners.flatMap((corner, i) => {
    const shift = [0, 0]
    for (const neighbour of [corners[(i + 1) % 4]!, corners[(i + 3) % 4]!]) {
      const length = Math.hypot(corner[0] - neighbour[0], corner[1] - neighbour[1])
      shift[0]! += (corner[0] - neighbour[0]) / length
      shift[1]! += (corner[1] - neighbour[1]) / length
    }
    return shift
  })
}
