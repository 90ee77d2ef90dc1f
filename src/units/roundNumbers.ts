/** Significant digits that files keep: far below any uncertainty, and free of the last bits' noise. */
const DIGITS = 7

/** A copy of plain data with every number rounded to seven significant digits. Whole numbers stay as they are. */
export function roundNumbers<Data>(data: Data): Data {
  return rounded(data) as Data
}

function rounded(data: unknown): unknown {
  if (typeof data === 'number') {
    return Number.isInteger(data) || !Number.isFinite(data) ? data : Number(data.toPrecision(DIGITS))
  }
  if (Array.isArray(data)) return data.map(rounded)
  if (data !== null && typeof data === 'object') {
    return Object.fromEntries(Object.entries(data).map(([key, value]) => [key, rounded(value)]))
  }
  return data
}
