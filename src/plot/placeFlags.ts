/** A flag that wants to stand with its middle at `x`; points. */
export interface Flag {
  readonly x: number
  readonly width: number
}

const GAP_PT = 2

/**
 * The middles of flags in one row, in the order given: each as near its own place as its neighbours to the left allow, and all within
 * `leftPt` and `rightPt` where they fit. Points.
 */
export function placeFlags(flags: readonly Flag[], leftPt: number, rightPt: number): number[] {
  const order = flags.map((flag, index) => ({ ...flag, index })).sort((a, b) => a.x - b.x)
  const centres: number[] = flags.map(() => 0)
  let end = leftPt
  for (const { x, width, index } of order) {
    const left = Math.max(x - width / 2, end)
    centres[index] = left + width / 2
    end = left + width + GAP_PT
  }
  let start = rightPt
  for (const { width, index } of order.toReversed()) {
    const right = Math.min((centres[index] ?? 0) + width / 2, start)
    centres[index] = right - width / 2
    start = right - width - GAP_PT
  }
  return centres
}
