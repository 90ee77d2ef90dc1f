/** The inverse of the lower Cholesky factor of four corners' covariance, 8 x 8, row by row: it undoes their noise. Null where the covariance is not positive definite. */
export function cornerWhitening(covariance: readonly (readonly number[])[]): Float64Array | null {
  const factor = new Float64Array(64)
  const inverse = new Float64Array(64)
  for (let i = 0; i < 8; i += 1) {
    for (let j = 0; j <= i; j += 1) {
      let sum = covariance[i]![j]!
      for (let k = 0; k < j; k += 1) sum -= factor[8 * i + k]! * factor[8 * j + k]!
      if (i !== j) factor[8 * i + j] = sum / factor[9 * j]!
      else if (sum > 1e-12 * covariance[i]![i]!) factor[9 * i] = Math.sqrt(sum)
      else return null
    }
    for (let j = 0; j <= i; j += 1) {
      let sum = i === j ? 1 : 0
      for (let k = j; k < i; k += 1) sum -= factor[8 * i + k]! * inverse[8 * k + j]!
      inverse[8 * i + j] = sum / factor[9 * i]!
    }
  }
  return inverse
}

/** Writes the whitening times one column (of `stride`) of eight rows. */
export function whiten(
  whitening: Float64Array,
  from: Float64Array,
  to: Float64Array,
  column: number,
  stride: number,
): void {
  for (let i = 0; i < 8; i += 1) {
    let sum = 0
    for (let j = 0; j <= i; j += 1) sum += whitening[8 * i + j]! * from[j * stride + column]!
    to[i * stride + column] = sum
  }
}

/** One entry of the transposed whitening times the whitened residuals. */
export function pulled(whitening: Float64Array, residuals: Float64Array, j: number): number {
  let sum = 0
  for (let i = j; i < 8; i += 1) sum += whitening[8 * i + j]! * residuals[i]!
  return sum
}
