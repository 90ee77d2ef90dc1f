import { FIELD, LETTERED_EDGE, STRIP } from '../../chart/printed/chartGeometry.js'
import { ChartModel } from '../../chart/fit/chartModel.js'
import { codeFromLinear } from '../../math/srgb.js'
import { type ChartFit, parametersOfFit } from '../../chart/fit/chartFit.js'
import { viewPlaces } from '../../chart/fit/fitPixels.js'
import type { GreyImage } from '../../chart/match/greyImage.js'
import { inverseHomography, mapPoint } from '../../math/homography.js'
import {
  crossing,
  isOfBlocks,
  LEAST_CROSSING_RAD,
  LEAST_FREQUENCY,
  LEAST_PIXELS,
  MOST_OFF,
  powerOf,
  STEPS,
  type Line,
} from './gridPower.js'

/** Pixels looked at, along each side. */
const SIDE_PX = 96
/** The strip is left out so far around, modules; a residual is against the mean within so many px. */
const STRIP_REACH = 0.4
const SLOW_PX = 3
/** Frequencies around a peak, and those it spills into, steps. */
const AROUND = 6
const SPILL = 2
const PEAK_KEPT = 5
/** So many steps off an axis of the picture still lie along it. */
const ALONG_AXIS = 2
const LEAST_AMPLITUDE_DN = 0.4

/** By how much the lesser of two peaks across one another stands over the frequencies around it. */
export function residualGridScore(image: GreyImage, fit: ChartFit, face: number): number {
  const residuals = sheetResiduals(image, fit, face)
  if (residuals === null) return 0
  const lines = powerOf(residuals)
  const least = (LEAST_AMPLITUDE_DN * residuals.count * 0.5) ** 2
  const peaks: { line: Line; ratio: number }[] = []
  for (const [at, line] of lines.entries()) {
    if (line.power < least || Math.hypot(line.fx, line.fy) < LEAST_FREQUENCY || isOfBlocks(line.fx, line.fy))
      continue
    const around = meanAround(lines, at, line.power)
    if (around !== null && line.power > PEAK_KEPT * around) peaks.push({ line, ratio: line.power / around })
  }
  let best = 0
  for (const a of peaks)
    for (const b of peaks)
      if (crossing(a.line, b.line) >= LEAST_CROSSING_RAD) best = Math.max(best, Math.min(a.ratio, b.ratio))
  return best
}

/** Mean power of the frequencies around one but for its nearest, which a peak spills into; null where it is not the greatest of those. */
function meanAround(lines: readonly Line[], at: number, power: number): number | null {
  const [column, row] = [Math.floor(at / (2 * STEPS)), at % (2 * STEPS)]
  let [sum, n] = [0, 0]
  for (let i = Math.max(0, column - AROUND); i <= Math.min(STEPS - 1, column + AROUND); i += 1)
    for (let j = row - AROUND; j <= row + AROUND; j += 1) {
      const other = lines[i * 2 * STEPS + ((j + 2 * STEPS) % (2 * STEPS))]!
      if (Math.max(Math.abs(i - column), Math.abs(j - row)) <= SPILL) {
        if (other.power > power) return null
        continue
      }
      sum += other.power
      n += 1
    }
  return Math.max(
    sum / n,
    column < ALONG_AXIS ? alongAxis(lines, at, 1) : 0,
    Math.abs(row - STEPS + 0.5) < ALONG_AXIS ? alongAxis(lines, at, 2 * STEPS) : 0,
  )
}

/**
 * Mean power of the frequencies along an axis of the picture, which rows' and columns' own errors have there at all frequencies: from the median, which a screen's few
 * peaks leave alone (the median of an exponential law is ln 2 of its mean).
 */
function alongAxis(lines: readonly Line[], at: number, stride: number): number {
  const first = stride === 1 ? at - (at % (2 * STEPS)) : at % stride
  const powers: number[] = []
  for (let k = 0; k < (stride === 1 ? 2 * STEPS : STEPS); k += 1) {
    const { fx, fy, power } = lines[first + k * stride]!
    if (Math.hypot(fx, fy) >= LEAST_FREQUENCY) powers.push(power)
  }
  powers.sort((x, y) => x - y)
  return powers[powers.length >> 1]! / Math.LN2
}

/** What is seen less what the fitted chart should show, row by row in a square about its middle, 0 where that is not known; slow changes taken out. */
interface Residuals {
  readonly side: number
  readonly values: Float64Array
  readonly count: number
}

/** The sheet's residuals but for its strip, whose fine lines make moire of their own, and for its lettered edge; null where there is little. */
function sheetResiduals(image: GreyImage, fit: ChartFit, face: number): Residuals | null {
  const back = inverseHomography(fit.map)
  if (back === null) return null
  const model = new ChartModel(face)
  const parameters = parametersOfFit(fit)
  model.set(parameters, false)
  const places = viewPlaces(fit.view)
  const flat = mapPoint(fit.map, FIELD.width / 2, FIELD.height / 2)
  const middle = places?.toStill(flat[0], flat[1]) ?? flat
  const [left, top] = middle.map((at) => Math.floor(at - SIDE_PX / 2)) as [number, number]
  const raw = new Float64Array(SIDE_PX ** 2).fill(NaN)
  const sizes: number[] = []
  const known = (u: number, v: number): boolean =>
    u > LETTERED_EDGE &&
    u < FIELD.width - LETTERED_EDGE &&
    v > LETTERED_EDGE &&
    v < FIELD.height - LETTERED_EDGE &&
    !(
      u > STRIP.left - STRIP_REACH &&
      u < STRIP.right + STRIP_REACH &&
      v > STRIP.top - STRIP_REACH &&
      v < STRIP.bottom + STRIP_REACH
    )
  for (let j = Math.max(0, -top); j < Math.min(SIDE_PX, image.height - top); j += 1)
    for (let i = Math.max(0, -left); i < Math.min(SIDE_PX, image.width - left); i += 1) {
      const [px, py] = [left + i + 0.5, top + j + 0.5]
      const [x, y] = places?.toFlat(px, py) ?? [px, py]
      const [u, v] = mapPoint(back, x, y)
      if (!known(u, v)) continue
      const light = fit.paper + (fit.ink - fit.paper) * model.ink(x, y, null)
      const code = codeFromLinear(Math.min(1, Math.max(0, light)))
      const residual = image.data[(top + j) * image.width + left + i]! - code
      raw[j * SIDE_PX + i] = residual
      sizes.push(Math.abs(residual))
    }
  if (sizes.length < LEAST_PIXELS) return null
  sizes.sort((a, b) => a - b)
  const limit = MOST_OFF * sizes[sizes.length >> 1]! + 1
  const inside = raw.map((value) => (Math.abs(value) <= limit ? value : NaN))
  const values = withoutSlow(inside)
  return { side: SIDE_PX, values, count: sizes.length }
}

/** Values less the mean of those around them; 0 where there is none. */
function withoutSlow(values: Float64Array): Float64Array {
  const out = new Float64Array(values.length)
  for (let j = 0; j < SIDE_PX; j += 1)
    for (let i = 0; i < SIDE_PX; i += 1) {
      const value = values[j * SIDE_PX + i]!
      if (Number.isNaN(value)) continue
      let [sum, n] = [0, 0]
      for (let y = Math.max(0, j - SLOW_PX); y <= Math.min(SIDE_PX - 1, j + SLOW_PX); y += 1)
        for (let x = Math.max(0, i - SLOW_PX); x <= Math.min(SIDE_PX - 1, i + SLOW_PX); x += 1) {
          const other = values[y * SIDE_PX + x]!
          if (Number.isNaN(other)) continue
          sum += other
          n += 1
        }
      out[j * SIDE_PX + i] = value - sum / n
    }
  return out
}
