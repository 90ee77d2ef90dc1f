/**
 * Solves the symmetric positive definite k x k system `matrix` x = `right`, k being `right.length`; `matrix` (row by row) is overwritten by its
 * factor, the solution goes to `out`. False where the matrix is not positive definite to working precision.
 * In typed arrays and without allocation, which a general matrix library does not offer: the fits call it in their inner loop.
 */
export function choleskySolve(matrix: Float64Array, right: Float64Array, out: Float64Array): boolean {
  if (!factor(matrix, right.length)) return false
  substitute(matrix, right, out)
  return true
}

/** Solves with the lower factor. */
function substitute(lower: Float64Array, right: Float64Array, out: Float64Array): void {
  const k = right.length
  for (let i = 0; i < k; i++) {
    let sum = right[i]!
    for (let j = 0; j < i; j++) sum -= lower[i * k + j]! * out[j]!
    out[i] = sum / lower[i * k + i]!
  }
  for (let i = k - 1; i >= 0; i--) {
    let sum = out[i]!
    for (let j = i + 1; j < k; j++) sum -= lower[j * k + i]! * out[j]!
    out[i] = sum / lower[i * k + i]!
  }
}

/** The inverse of a symmetric positive definite k x k matrix (row by row, left as it is), or null where it is none. */
export function choleskyInverse(matrix: Float64Array, k: number): Float64Array | null {
  const lower = Float64Array.from(matrix)
  if (!factor(lower, k)) return null
  const inverse = new Float64Array(k * k)
  const unit = new Float64Array(k)
  const column = new Float64Array(k)
  for (let j = 0; j < k; j++) {
    unit.fill(0)
    unit[j] = 1
    substitute(lower, unit, column)
    for (let i = 0; i < k; i++) inverse[i * k + j] = column[i]!
  }
  return inverse
}

/**
 * The inverse of the lower factor of a symmetric positive definite k x k matrix (row by row, overwritten), which makes white what has that covariance, and the logarithm
 * of its determinant; null where it is none.
 */
export function choleskyWhitening(
  matrix: Float64Array,
  k: number,
): { readonly inverse: Float64Array; readonly logDeterminant: number } | null {
  if (!factor(matrix, k)) return null
  const inverse = new Float64Array(k * k)
  let logDeterminant = 0
  for (let i = 0; i < k; i++) {
    const pivot = matrix[i * k + i]!
    logDeterminant += 2 * Math.log(pivot)
    for (let j = 0; j <= i; j++) {
      let sum = j === i ? 1 : 0
      for (let l = j; l < i; l++) sum -= matrix[i * k + l]! * inverse[l * k + j]!
      inverse[i * k + j] = sum / pivot
    }
  }
  return { inverse, logDeterminant }
}

/** Lower factor in place. A pivot that has lost 14 digits against its own diagonal counts as zero. */
function factor(matrix: Float64Array, k: number): boolean {
  for (let i = 0; i < k; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = matrix[i * k + j]!
      for (let l = 0; l < j; l++) sum -= matrix[i * k + l]! * matrix[j * k + l]!
      if (i !== j) matrix[i * k + j] = sum / matrix[j * k + j]!
      else if (sum > 1e-14 * matrix[i * k + i]!) matrix[i * k + i] = Math.sqrt(sum)
      else return false
    }
  }
  return true
}
