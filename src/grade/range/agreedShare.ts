import type { MarkMeasurement } from '../marks/markMeasurement.js'
import type { Share } from './densityAt.js'

// A stated uncertainty of nothing would let one mark outweigh all others; this project's convention.
const LEAST_U = 1e-3

/**
 * The one share of pixels with detail that all marks agree on within their U, or null where they do not, or one has none. Its U is the mean of theirs and does
 * not shrink with their number: what was assumed of the tone curve is assumed at every mark.
 */
export function agreedShare(marks: readonly MarkMeasurement[]): Share | null {
  const factors = marks.flatMap(({ factor }) => factor ?? [])
  if (factors.length === 0 || factors.length < marks.length) return null
  const weights = factors.map(({ U }) => 1 / Math.max(U, LEAST_U) ** 2)
  const total = weights.reduce((sum, weight) => sum + weight, 0)
  const value = factors.reduce((sum, factor, i) => sum + weights[i]! * factor.value, 0) / total
  if (!(value > 0)) return null
  if (factors.some((factor) => Math.abs(factor.value - value) > Math.max(factor.U, LEAST_U))) return null
  return { value, U: factors.reduce((sum, { U }) => sum + U, 0) / factors.length }
}
