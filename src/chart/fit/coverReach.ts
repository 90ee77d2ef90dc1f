/** So many outliers within so many px, itself among them, make one a part of something that lies over the chart. */
const LEAST_TOGETHER = 8
const TOGETHER_PX = 2.5

/**
 * Leaves out what lies around outliers that stand together, too: a hand's or a strap's rim is blurred into the chart, and what little of it each pixel carries there is
 * too little to be an outlier and yet moves edges. `x`, `y`: places of pixels (px), `weights`: 1 or 0, changed; `reachPx`: how far around.
 */
export function growCover(
  { x, y }: { readonly x: Float64Array; readonly y: Float64Array },
  weights: Float64Array,
  reachPx: number,
): void {
  const outliers: number[] = []
  for (let at = 0; at < weights.length; at += 1) if (weights[at] === 0) outliers.push(at)
  if (outliers.length < LEAST_TOGETHER) return
  const cell = Math.max(TOGETHER_PX, reachPx)
  const cells = new Map<number, number[]>()
  const keyOf = (i: number, j: number): number => j * 1e5 + i
  for (const at of outliers) {
    const key = keyOf(Math.floor(x[at]! / cell), Math.floor(y[at]! / cell))
    const there = cells.get(key)
    if (there === undefined) cells.set(key, [at])
    else there.push(at)
  }
  const near = (
    at: number,
    withinPx: number,
    enough: number,
    counts: (other: number) => boolean,
  ): boolean => {
    const [i, j] = [Math.floor(x[at]! / cell), Math.floor(y[at]! / cell)]
    let found = 0
    for (let down = -1; down <= 1; down += 1)
      for (let across = -1; across <= 1; across += 1)
        for (const other of cells.get(keyOf(i + across, j + down)) ?? []) {
          if (!counts(other) || Math.hypot(x[other]! - x[at]!, y[other]! - y[at]!) > withinPx) continue
          found += 1
          if (found >= enough) return true
        }
    return false
  }
  const together = new Set(outliers.filter((at) => near(at, TOGETHER_PX, LEAST_TOGETHER, () => true)))
  if (together.size === 0) return
  for (let at = 0; at < weights.length; at += 1)
    if (weights[at] === 1 && near(at, reachPx, 1, (other) => together.has(other))) weights[at] = 0
}
