import type { Raster } from '../still/raster.js'
import { binAt, codeInBin } from './edgeAtBins.js'
import type { EdgeSide } from './edgeSide.js'
import { edgeAcrossPx } from './sideLine.js'
import type { Problem } from './stillMeasurement.js'

/** Least offset between odd and even rows that is told, px, and in standard deviations of its own: this project's convention. */
const LEAST_OFFSET_PX = 0.3
const LEAST_OFFSET_SIGMAS = 5
/** An edge is upright enough where its normal is within 30 degrees of the rows. */
const LEAST_UPRIGHT = 0.866

/**
 * Whether odd and even rows lie apart at an upright edge, as where a still joins two fields taken at different times. Each row's shift against the
 * fitted edge is found to first order; `side` must be of this raster. Null where they do not, or where the edge is not upright.
 */
export function interlaceAt(raster: Raster, side: EdgeSide): Problem | null {
  const { line, model, fitted } = side
  const [nx, ny] = line.outward
  if (Math.abs(nx) < LEAST_UPRIGHT) return null
  const reach = 2.5 * model.sigmaPx + 2
  const shifts: [number[], number[]] = [[], []]
  for (let j = 0; j < raster.height; j += 1) {
    const y = raster.top + j + 0.5 - line.from[1]
    const alongHere = y / line.along[1]
    if (!(alongHere > 3 * model.sigmaPx + 2 && alongHere < line.lengthPx - 3 * model.sigmaPx - 2)) continue
    const centre =
      line.from[0] + alongHere * line.along[0] + (edgeAcrossPx(line, alongHere) + model.acrossPx) / nx
    let up = 0
    let down = 0
    const first = Math.max(0, Math.floor(centre - reach - raster.left))
    const last = Math.min(raster.width - 1, Math.ceil(centre + reach - raster.left))
    for (let i = first; i <= last; i += 1) {
      const x = raster.left + i + 0.5 - line.from[0]
      const across = x * nx + y * ny - edgeAcrossPx(line, x * line.along[0] + y * line.along[1])
      const bin = binAt(fitted, across)
      if (bin < 0) continue
      const slope = fitted.gradient[6 * bin + 2]!
      up += (raster.data[j * raster.width + i]! - codeInBin(fitted, bin, across)) * slope
      down += slope * slope
    }
    if (down > 0) shifts[(raster.top + j) % 2 === 0 ? 0 : 1].push(Math.max(-3, Math.min(3, up / down)))
  }
  if (Math.min(shifts[0].length, shifts[1].length) < 6) return null
  const [even, odd] = [spread(shifts[0]), spread(shifts[1])]
  const offset = Math.abs(even.mean - odd.mean)
  if (offset < LEAST_OFFSET_PX || offset < LEAST_OFFSET_SIGMAS * Math.hypot(even.u, odd.u)) return null
  return {
    code: 'interlaced',
    message: `odd and even rows lie ${offset.toFixed(1)} px apart at an upright edge: the still joins two fields`,
  }
}

function spread(values: readonly number[]): { readonly mean: number; readonly u: number } {
  const n = values.length
  const mean = values.reduce((sum, value) => sum + value, 0) / n
  return { mean, u: Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (n - 1) / n) }
}
