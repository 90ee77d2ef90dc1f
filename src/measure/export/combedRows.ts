import type { Raster } from '../../still/raster.js'
import type { Problem } from '../stillMeasurement.js'
import { problem } from '../../sentences.js'
import { measureSays } from '../sentences.js'

/** Least offset between odd and even rows that is told, px, and in standard deviations of its own: this project's convention. */
const LEAST_OFFSET_PX = 0.3
const LEAST_OFFSET_SIGMAS = 5
/** So many rows of each field are asked, code values squared of slope in each: what is even tells no shift. */
const LEAST_ROWS = 6
const LEAST_SLOPE_SQUARE = 1000

/**
 * Whether a still joins two fields taken at different times: odd and even rows then lie apart wherever something upright moved. Each row's
 * shift against the mean of the rows above and below is found to first order from the slope along it; what the scene itself does, slanted edges among it,
 * shifts odd and even rows alike. Null where they do not lie apart, or nothing upright is there to tell.
 */
export function combedRows(raster: Raster): Problem | null {
  const { width, height, data } = raster
  const fields: [number[], number[]] = [[], []]
  for (let row = 1; row + 1 < height; row += 1) {
    let up = 0
    let down = 0
    const at = row * width
    for (let i = 1; i + 1 < width; i += 1) {
      const over = at - width + i
      const under = at + width + i
      const slope = (data[over + 1]! + data[under + 1]! - data[over - 1]! - data[under - 1]!) / 4
      up += ((data[over]! + data[under]!) / 2 - data[at + i]!) * slope
      down += slope * slope
    }
    if (down >= LEAST_SLOPE_SQUARE) fields[(raster.top + row) & 1]!.push(up / down)
  }
  const [even, odd] = fields
  if (Math.min(even.length, odd.length) < LEAST_ROWS) return null
  const [one, other] = [spread(even), spread(odd)]
  // Both fields move against each other: half the difference is what lies between them.
  const offset = Math.abs(one.mean - other.mean) / 2
  if (offset < LEAST_OFFSET_PX || offset < (LEAST_OFFSET_SIGMAS * Math.hypot(one.u, other.u)) / 2) return null
  return problem(measureSays.interlaced(offset))
}

function spread(values: readonly number[]): { readonly mean: number; readonly u: number } {
  const n = values.length
  const mean = values.reduce((sum, value) => sum + value, 0) / n
  return { mean, u: Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (n - 1) / n) }
}
