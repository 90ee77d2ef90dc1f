/** Residuals over this many robust standard deviations are taken for something lying over the chart. */
const OUTLIER = 5
/** Nothing under this share of the contrast counts as an outlier: the model's own faults stay in. */
const LEAST_OUTLIER = 0.15
/** The median of |n| of a standard normal n is 1 / 1.4826. */
const MEDIAN_TO_DEVIATION = 1.4826

/**
 * Weight 1 for residuals that belong to the chart, 0 for what lies over it: outliers by the median, but nothing small
 * against the contrast (code values). Returns the robust standard deviation.
 */
export function weighResiduals(residuals: Float64Array, weights: Float64Array, contrast: number): number {
  const sorted = residuals.map(Math.abs).sort()
  const deviation = MEDIAN_TO_DEVIATION * sorted[sorted.length >> 1]!
  const limit = Math.max(OUTLIER * deviation, LEAST_OUTLIER * contrast)
  for (let at = 0; at < residuals.length; at += 1) weights[at] = Math.abs(residuals[at]!) <= limit ? 1 : 0
  return deviation
}

/** Whether two lists of weights are the same. */
export function areSameWeights(one: Float64Array, other: Float64Array): boolean {
  for (let at = 0; at < one.length; at += 1) if (one[at] !== other[at]) return false
  return true
}

/** Correlation of the kept pixels' code values with the model's. */
export function modelCorrelation(code: Float64Array, residuals: Float64Array, weights: Float64Array): number {
  let [n, sum, squares, rest] = [0, 0, 0, 0]
  for (let at = 0; at < code.length; at += 1) {
    if (weights[at] === 0) continue
    n += 1
    sum += code[at]!
    squares += code[at]! ** 2
    rest += residuals[at]! ** 2
  }
  const total = squares - sum ** 2 / n
  return total > 0 ? Math.sqrt(Math.max(0, 1 - rest / total)) : 0
}
