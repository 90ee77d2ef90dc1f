/** Values parted in two: those from `threshold` on are bright. */
export interface TwoClassSplit {
  readonly threshold: number
  readonly bright: number
  readonly dim: number
}

/**
 * Parts code values (0..255) in two where the variance between the classes is greatest. Source: N. Otsu, IEEE Transactions on Systems, Man and
 * Cybernetics 9 (1979) 62. A split always comes out where there are two different values; whether it parts more than noise is for the caller. Null without.
 */
export function twoClassSplit(codes: ArrayLike<number>): TwoClassSplit | null {
  // Half code values, so that smoothed pictures of low contrast are still parted finely.
  const bins = 512
  const count = new Float64Array(bins)
  const sum = new Float64Array(bins)
  let total = 0
  for (let i = 0; i < codes.length; i += 1) {
    const code = codes[i]!
    const bin = Math.max(0, Math.min(bins - 1, Math.floor(code * 2)))
    count[bin]! += 1
    sum[bin]! += code
    total += code
  }
  let [below, belowSum, best] = [0, 0, 0]
  let split: TwoClassSplit | null = null
  for (let bin = 0; bin + 1 < bins; bin += 1) {
    below += count[bin]!
    belowSum += sum[bin]!
    const above = codes.length - below
    if (below === 0) continue
    if (above === 0) break
    const dim = belowSum / below
    const bright = (total - belowSum) / above
    const between = below * above * (bright - dim) ** 2
    if (between > best) {
      best = between
      split = { threshold: (bin + 1) / 2, bright, dim }
    }
  }
  return split
}
