import { choleskySolve } from '../../math/cholesky.js'
import { codeInBin, type EdgeAtBins } from './edgeAtBins.js'
import type { EdgeProfile } from './edgeProfile.js'

/** A segment's part of the normal equations at the model: J'WJ (size x size, row by row) and J'W times (measured - model). */
function normalPart(
  profile: EdgeProfile,
  edge: EdgeAtBins,
  size: number,
): { readonly normal: Float64Array; readonly right: Float64Array } {
  const normal = new Float64Array(size * size)
  const right = new Float64Array(size)
  for (let bin = 0; bin < profile.count.length; bin += 1) {
    const count = profile.count[bin]!
    if (count < 0.5) continue
    const residual = profile.codeSum[bin]! - count * codeInBin(edge, bin, profile.acrossSum[bin]! / count)
    for (let row = 0; row < size; row += 1) {
      const slope = edge.gradient[6 * bin + row]!
      right[row]! += slope * residual
      for (let column = 0; column <= row; column += 1)
        normal[row * size + column]! += count * slope * edge.gradient[6 * bin + column]!
    }
  }
  return { normal, right }
}

/** Gauss-Newton steps of the first `size` edge parameters from a model: by all segments, and with each left out in turn; null where they do not determine it. */
export function stepsBySegments(
  segments: readonly EdgeProfile[],
  edge: EdgeAtBins,
  size: number,
): { readonly all: Float64Array | null; readonly without: readonly (Float64Array | null)[] } {
  const parts = segments.map((segment) => normalPart(segment, edge, size))
  const total = new Float64Array(size * size)
  const totalRight = new Float64Array(size)
  for (const { normal, right } of parts) {
    for (let i = 0; i < total.length; i += 1) total[i]! += normal[i]!
    for (let i = 0; i < size; i += 1) totalRight[i]! += right[i]!
  }
  const solved = (normal: Float64Array, right: Float64Array): Float64Array | null => {
    const step = new Float64Array(size)
    return choleskySolve(normal, right, step) ? step : null
  }
  const without = parts.map(({ normal, right }) =>
    solved(
      total.map((value, i) => value - normal[i]!),
      totalRight.map((value, i) => value - right[i]!),
    ),
  )
  return { all: solved(total, totalRight), without }
}

/**
 * The blurs (px) that the pooled fit would have given with one segment left out, one per segment: each a single Gauss-Newton step from the
 * pooled model (`edge`, blurred by `sigmaPx`), which is what a refit moves to first order. NaN where the others do not determine it.
 */
export function sigmasWithoutOneSegment(
  segments: readonly EdgeProfile[],
  edge: EdgeAtBins,
  sigmaPx: number,
  withHalo: boolean,
): readonly number[] {
  // The fourth parameter is the blur's logarithm.
  return stepsBySegments(segments, edge, withHalo ? 6 : 4).without.map((step) =>
    step === null ? NaN : sigmaPx * Math.exp(Math.max(-1, Math.min(1, step[3]!))),
  )
}

/** Standard uncertainty of what is told by all segments, from what is told with one left out: the jackknife. */
export function jackknifeU(without: readonly number[]): number {
  const n = without.length
  const mean = without.reduce((sum, value) => sum + value, 0) / n
  return Math.sqrt(((n - 1) / n) * without.reduce((sum, value) => sum + (value - mean) ** 2, 0))
}
