import { boxSum, type BoxSums } from './boxSums.js'
import type { SquareRoom } from './squareRoom.js'

/** Scatter of the means over equal squares, code values, and the degrees of freedom it is known with. */
export interface SquareScatter {
  readonly scatter: number
  readonly squares: number
  readonly dof: number
}

/** Sums over one class's squares: of their places and means (from a mean of the first), and of the products of these. */
interface Sums {
  n: number
  x: number
  y: number
  m: number
  xx: number
  xy: number
  yy: number
  xm: number
  ym: number
  mm: number
  from: number
}

/** So many squares tell the scatter well enough (1 to 2 %): where more find room, some are passed over. */
const ENOUGH_SQUARES = 4000

/**
 * Lays squares of `sidePx` whole pixels side by side wherever they find room, and gives the standard deviation of their means about
 * an even or evenly sloping ground per class (1 or 2 in `labels`). What neighbouring pixels have in common stays in. Null under `leastSquares`.
 */
export function squareScatter(
  codes: BoxSums,
  room: SquareRoom,
  labels: Uint8Array,
  sidePx: number,
  leastSquares: number,
): SquareScatter | null {
  if ((room.places[sidePx] ?? 0) < leastSquares) return null
  const { width, height, side } = room
  const area = sidePx * sidePx
  const stride = sidePx * Math.max(1, Math.ceil(Math.sqrt(room.places[1]! / area / ENOUGH_SQUARES)))
  const first = emptySums()
  const second = emptySums()
  for (let top = 0; top + sidePx <= height; top += 1) {
    // Rows of squares start where a row has some, so that narrow strips are not missed.
    let laid = false
    const ends = (top + sidePx - 1) * width + sidePx - 1
    for (let left = 0; left + sidePx <= width; left += 1) {
      if (side[ends + left]! < sidePx) continue
      const mean = boxSum(codes, left, top, left + sidePx, top + sidePx) / area
      add(labels[top * width + left] === 2 ? second : first, left, top, mean)
      left += stride - 1
      laid = true
    }
    if (laid) top += stride - 1
  }
  const squares = first.n + second.n
  if (squares < leastSquares) return null
  const [one, two] = [slopeFree(first), slopeFree(second)]
  const dof = one.dof + two.dof
  return dof < 2 ? null : { scatter: Math.sqrt((one.squares + two.squares) / dof), squares, dof }
}

function emptySums(): Sums {
  return { n: 0, x: 0, y: 0, m: 0, xx: 0, xy: 0, yy: 0, xm: 0, ym: 0, mm: 0, from: 0 }
}

function add(sums: Sums, x: number, y: number, mean: number): void {
  if (sums.n === 0) sums.from = mean
  const m = mean - sums.from
  sums.n += 1
  sums.x += x
  sums.y += y
  sums.m += m
  sums.xx += x * x
  sums.xy += x * y
  sums.yy += y * y
  sums.xm += x * m
  sums.ym += y * m
  sums.mm += m * m
}

/** Sum of squares about a plane (about the mean where there are few), and its degrees of freedom. */
function slopeFree(sums: Sums): { readonly squares: number; readonly dof: number } {
  const { n } = sums
  if (n < 2) return { squares: 0, dof: 0 }
  const xx = sums.xx - (sums.x * sums.x) / n
  const xy = sums.xy - (sums.x * sums.y) / n
  const yy = sums.yy - (sums.y * sums.y) / n
  const xm = sums.xm - (sums.x * sums.m) / n
  const ym = sums.ym - (sums.y * sums.m) / n
  const mm = Math.max(0, sums.mm - (sums.m * sums.m) / n)
  const determinant = xx * yy - xy * xy
  if (n < 6 || !(determinant > 1e-6 * xx * yy)) return { squares: mm, dof: n - 1 }
  const a = (xm * yy - ym * xy) / determinant
  const b = (ym * xx - xm * xy) / determinant
  return { squares: Math.max(0, mm - a * xm - b * ym), dof: n - 3 }
}
