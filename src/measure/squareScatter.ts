import { boxSum, type BoxSums } from './boxSums.js'

/** Scatter of the means over equal squares, code values, and the degrees of freedom it is known with. */
export interface SquareScatter {
  readonly scatter: number
  readonly squares: number
  readonly dof: number
}

/** A square's mean, where it lies, and the class it lies in. */
interface SquareMean {
  readonly x: number
  readonly y: number
  readonly mean: number
}

/**
 * Lays squares of `sidePx` whole pixels side by side wherever all their pixels are quiet, and gives the standard deviation of their means about
 * an even or evenly sloping ground per class (1 or 2 in `labels`). What neighbouring pixels have in common stays in. Null under `leastSquares`.
 */
export function squareScatter(
  codes: BoxSums,
  quiet: BoxSums,
  labels: Uint8Array,
  sidePx: number,
  leastSquares: number,
): SquareScatter | null {
  const area = sidePx * sidePx
  const classes: [SquareMean[], SquareMean[]] = [[], []]
  for (let top = 0; top + sidePx <= codes.height; top += 1) {
    // Rows of squares start where a row has some, so that narrow strips are not missed.
    let laid = false
    for (let left = 0; left + sidePx <= codes.width; left += 1) {
      if (boxSum(quiet, left, top, left + sidePx, top + sidePx) < area) continue
      const mean = boxSum(codes, left, top, left + sidePx, top + sidePx) / area
      const label = labels[top * codes.width + left]!
      classes[label === 2 ? 1 : 0].push({ x: left, y: top, mean })
      left += sidePx - 1
      laid = true
    }
    if (laid) top += sidePx - 1
  }
  const squares = classes[0].length + classes[1].length
  if (squares < leastSquares) return null
  let [sum, dof] = [0, 0]
  for (const means of classes) {
    const rest = slopeFree(means)
    sum += rest.squares
    dof += rest.dof
  }
  return dof < 2 ? null : { scatter: Math.sqrt(sum / dof), squares, dof }
}

/** Sum of squares about a plane (about the mean where there are few), and its degrees of freedom. */
function slopeFree(means: readonly SquareMean[]): { readonly squares: number; readonly dof: number } {
  const n = means.length
  if (n < 2) return { squares: 0, dof: 0 }
  const average = (of: (square: SquareMean) => number): number =>
    means.reduce((sum, square) => sum + of(square), 0) / n
  const [mx, my, mm] = [average(({ x }) => x), average(({ y }) => y), average(({ mean }) => mean)]
  let [xx, xy, yy, xm, ym, mm2] = [0, 0, 0, 0, 0, 0]
  for (const { x, y, mean } of means) {
    const [dx, dy, dm] = [x - mx, y - my, mean - mm]
    xx += dx * dx
    xy += dx * dy
    yy += dy * dy
    xm += dx * dm
    ym += dy * dm
    mm2 += dm * dm
  }
  const determinant = xx * yy - xy * xy
  if (n < 6 || !(determinant > 1e-6 * xx * yy)) return { squares: mm2, dof: n - 1 }
  const a = (xm * yy - ym * xy) / determinant
  const b = (ym * xx - xm * xy) / determinant
  return { squares: Math.max(0, mm2 - a * xm - b * ym), dof: n - 3 }
}
