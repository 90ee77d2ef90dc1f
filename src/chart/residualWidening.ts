/** Neighbours up to so many pixels away count; farther ones are taken for independent. */
const REACH_PX = 6
const MOST_WIDENING = 8

/**
 * By how much variances grow because residuals of neighbouring pixels hang together (JPEG blocks, noise reduction): the mean over parameters
 * of the spatial sandwich variance over the white-noise one, at least 1. Triangular weights by distance (W. Newey and K. West, Econometrica
 * 55 (1987) 703, in two dimensions: T. Conley, J. Econometrics 92 (1999) 1).
 * `influences`: per parameter, each pixel's residual times its pull; `white`: the parameter's variance were residuals white.
 */
export function residualWidening(
  x: Float64Array,
  y: Float64Array,
  influences: readonly Float64Array[],
  white: readonly number[],
): number {
  const [left, top] = [Math.floor(Math.min(...bounds(x))), Math.floor(Math.min(...bounds(y)))]
  const width = Math.floor(bounds(x)[1]) - left + 1
  const height = Math.floor(bounds(y)[1]) - top + 1
  const grid = new Int32Array(width * height).fill(-1)
  for (let at = 0; at < x.length; at += 1)
    grid[(Math.floor(y[at]!) - top) * width + Math.floor(x[at]!) - left] = at
  let ratio = 0
  influences.forEach((influence, k) => {
    let sum = 0
    for (let at = 0; at < x.length; at += 1) {
      const own = influence[at]!
      if (own === 0) continue
      const column = Math.floor(x[at]!) - left
      const row = Math.floor(y[at]!) - top
      sum += own * own
      for (let down = 0; down < REACH_PX; down += 1) {
        if (row + down >= height) break
        for (let across = down === 0 ? 1 : 1 - REACH_PX; across < REACH_PX; across += 1) {
          if (column + across < 0 || column + across >= width) continue
          const other = grid[(row + down) * width + column + across]!
          if (other < 0) continue
          sum += 2 * (1 - Math.abs(across) / REACH_PX) * (1 - down / REACH_PX) * own * influence[other]!
        }
      }
    }
    ratio += sum / white[k]! / influences.length
  })
  return Math.min(MOST_WIDENING, Math.max(1, ratio))
}

function bounds(values: Float64Array): readonly [number, number] {
  let [low, high] = [Infinity, -Infinity]
  for (const value of values) {
    if (value < low) low = value
    if (value > high) high = value
  }
  return [low, high]
}
