/** The middle value, or the mean of the two middle ones; NaN of none. */
export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b)
  const middle = sorted.length >> 1
  return sorted.length % 2 === 1
    ? sorted[middle]!
    : ((sorted[middle - 1] ?? NaN) + (sorted[middle] ?? NaN)) / 2
}
