/** The normal equations of Gauss and Newton: J'J (k x k, row by row) and the way down, -J'r. */
export interface NormalEquations {
  readonly matrix: Float64Array
  readonly right: Float64Array
}

/**
 * The normal equations over the free parameters; null where they are not finite. `jacobian` is row by
 * residual with `n` columns, `free` the columns that count.
 */
export function normalEquations(
  jacobian: Float64Array,
  residuals: Float64Array,
  free: readonly number[],
  n: number,
): NormalEquations | null {
  const k = free.length
  const matrix = new Float64Array(k * k)
  const right = new Float64Array(k)
  for (let i = 0, row = 0; i < residuals.length; i++, row += n) {
    const residual = residuals[i]!
    for (let a = 0; a < k; a++) {
      const slope = jacobian[row + free[a]!]!
      right[a] = right[a]! - slope * residual
      for (let b = 0; b <= a; b++) matrix[a * k + b] = matrix[a * k + b]! + slope * jacobian[row + free[b]!]!
    }
  }
  for (let a = 0; a < k; a++) for (let b = 0; b < a; b++) matrix[b * k + a] = matrix[a * k + b]!
  return right.every(Number.isFinite) && matrix.every(Number.isFinite) ? { matrix, right } : null
}

/** Adds one residual, of slopes `row`, to the lower half of normal equations as large as the row. */
export function addResidual({ matrix, right }: NormalEquations, row: Float64Array, residual: number): void {
  const n = row.length
  for (let i = 0, at = 0; i < n; i++, at += n) {
    const slope = row[i]!
    if (slope === 0) continue
    right[i]! += slope * residual
    for (let j = 0; j <= i; j++) matrix[at + j]! += slope * row[j]!
  }
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
