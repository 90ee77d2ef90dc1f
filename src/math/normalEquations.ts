/**
 * Writes J'J (k x k, row by row) and J'r over the free parameters; false where they are not finite. `jacobian` is row by
 * residual with `n` columns, `free` the columns that count.
 */
export function assembleNormal(
  jacobian: Float64Array,
  residuals: Float64Array,
  free: readonly number[],
  n: number,
  normal: Float64Array,
  gradient: Float64Array,
): boolean {
  const k = free.length
  normal.fill(0)
  gradient.fill(0)
  for (let i = 0, row = 0; i < residuals.length; i++, row += n) {
    const residual = residuals[i]!
    for (let a = 0; a < k; a++) {
      const slope = jacobian[row + free[a]!]!
      gradient[a] = gradient[a]! + slope * residual
      for (let b = 0; b <= a; b++) normal[a * k + b] = normal[a * k + b]! + slope * jacobian[row + free[b]!]!
    }
  }
  let check = 0
  for (let a = 0; a < k; a++) {
    check += gradient[a]!
    for (let b = 0; b <= a; b++) {
      normal[b * k + a] = normal[a * k + b]!
      check += normal[a * k + b]!
    }
  }
  return Number.isFinite(check)
}

/** The k x k matrix of the free parameters (row by row) laid into the n x n of all, zero elsewhere. */
export function scatterFree(matrix: Float64Array, free: readonly number[], n: number): number[][] {
  const full = Array.from({ length: n }, () => new Array<number>(n).fill(0))
  for (const [a, i] of free.entries()) {
    for (const [b, j] of free.entries()) full[i]![j] = matrix[a * free.length + b]!
  }
  return full
}

/** Sum of squares. */
export function squareSum(values: Float64Array): number {
  let sum = 0
  for (const value of values) sum += value * value
  return sum
}
