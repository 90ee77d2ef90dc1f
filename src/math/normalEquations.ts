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

/**
 * Sums residuals, two at a time, which halves the way to memory, into the lower half of normal equations: a residual's slopes are written to `row`, then it is added;
 * `end` takes in a last one.
 */
export class ResidualSums {
  readonly #equations: NormalEquations
  readonly #rows: readonly [Float64Array, Float64Array]
  #first = 0
  #held: 0 | 1 = 0

  constructor(equations: NormalEquations) {
    this.#equations = equations
    const n = equations.right.length
    this.#rows = [new Float64Array(n), new Float64Array(n)]
  }

  /** Where the next residual's slopes go. */
  get row(): Float64Array {
    return this.#rows[this.#held]
  }

  add(residual: number): void {
    if (this.#held === 1) addTwo(this.#equations, this.#rows[0], this.#rows[1], this.#first, residual)
    this.#first = residual
    this.#held = this.#held === 0 ? 1 : 0
  }

  end(): void {
    if (this.#held === 0) return
    this.#rows[1].fill(0)
    this.add(0)
  }
}

function addTwo(
  { matrix, right }: NormalEquations,
  one: Float64Array,
  other: Float64Array,
  ofOne: number,
  ofOther: number,
): void {
  const n = right.length
  for (let i = 0, at = 0; i < n; i++, at += n) {
    const a = one[i]!
    const b = other[i]!
    if (a === 0 && b === 0) continue
    right[i]! += a * ofOne + b * ofOther
    for (let j = 0; j <= i; j++) matrix[at + j]! += a * one[j]! + b * other[j]!
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

/** Sum of products. */
export function dot(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let sum = 0
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!
  return sum
}

/** The square of a vector in a symmetric matrix, row by row. */
export function quadratic(matrix: Float64Array, vector: Float64Array): number {
  const size = vector.length
  let sum = 0
  for (let i = 0; i < size; i += 1)
    for (let j = 0; j < size; j += 1) sum += vector[i]! * matrix[i * size + j]! * vector[j]!
  return sum
}
