import { choleskyWhitening } from '../../math/cholesky.js'
import { ONE_MARK_M } from '../marks/markMeasurement.js'
import { type CourtMark, HELD_RAD, KAPPA, NUMBERS, RHO, Y } from './courtMarks.js'

interface Block {
  readonly from: number
  readonly size: number
  /** Inverse of the lower factor of its covariance, row by row. */
  readonly inverse: Float64Array
}

/** How columns over all numbers of the marks are whitened, and the logarithm of the determinant of their covariance. */
interface Whitening {
  readonly whiten: (column: Float64Array) => Float64Array
  readonly logDeterminant: number
}

/**
 * Whitens by what of the numbers is each mark's own, corners `roughness` times as rough as stated. Marks of one light at one place share their tape: they are one
 * block, independent of the others.
 */
export function whitenMarks(marks: readonly CourtMark[], roughness: number): Whitening {
  const inverses: Block[] = []
  let logDeterminant = 0
  for (let first = 0; first < marks.length;) {
    let end = first + 1
    const { light, distanceM } = marks[first]!.fitted.mark
    const together = (index: number): boolean => {
      const other = marks[index]?.fitted.mark
      return other?.light === light && other.distanceM - distanceM <= ONE_MARK_M + 1e-9
    }
    while (together(end)) end++
    const size = NUMBERS * (end - first)
    const whitened = choleskyWhitening(blockCovariance(marks.slice(first, end), roughness), size)!
    inverses.push({ from: NUMBERS * first, size, inverse: whitened.inverse })
    logDeterminant += whitened.logDeterminant
    first = end
  }
  return { whiten: (column) => whitenedBy(inverses, column), logDeterminant }
}

function blockCovariance(marks: readonly CourtMark[], roughness: number): Float64Array {
  const size = NUMBERS * marks.length
  const matrix = new Float64Array(size * size)
  marks.forEach(({ fitted: { point }, square, rhoRel, kappaRel }, i) => {
    const at = NUMBERS * i
    const add = (a: number, b: number, by: number): void => {
      matrix[(at + a) * size + at + b]! += by
    }
    if (square === null) {
      add(Y, Y, (roughness * point.ownRel) ** 2)
      add(RHO, RHO, 1)
      add(KAPPA, KAPPA, 1)
    } else {
      square.covariance.forEach((row, a) => row.forEach((each, b) => add(a, b, roughness ** 2 * each)))
      add(RHO, RHO, rhoRel ** 2 + point.modelRel ** 2)
      add(KAPPA, KAPPA, kappaRel ** 2)
    }
    // Two references are put down at one mark each by itself, here within half the tolerance. Put down anew within all of it, honest walks are accused in 6 of 100; taken
    // for held at one place, in 25 to 43 (simulated).
    const placedRel = marks.length > 1 ? Math.max(ONE_MARK_M, point.tapeM / 2) / point.distanceM : 0
    add(Y, Y, (HELD_RAD * HELD_RAD) ** 2 / 2 + point.modelRel ** 2 + placedRel ** 2)
    marks.forEach((other, j) => {
      matrix[at * size + NUMBERS * j]! +=
        (point.tapeM / point.distanceM) * (other.fitted.point.tapeM / other.fitted.point.distanceM)
    })
  })
  return matrix
}

function whitenedBy(inverses: readonly Block[], column: Float64Array): Float64Array {
  const out = new Float64Array(column.length)
  for (const { from, size, inverse } of inverses)
    for (let i = 0; i < size; i++)
      for (let j = 0; j <= i; j++) out[from + i]! += inverse[i * size + j]! * column[from + j]!
  return out
}
