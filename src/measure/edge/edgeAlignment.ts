import { median } from '../../math/median.js'
import { failure, success, type Outcome } from '../../math/outcome.js'
import { codeInBin, type EdgeAtBins } from './edgeAtBins.js'
import type { EdgeModel } from './edgeModel.js'
import type { EdgeProfile, StripShape } from './edgeProfile.js'
import type { EdgeFault } from './quietGround.js'
import type { SideLine } from './sideLine.js'
import { linearFromCode } from '../../math/srgb.js'
import { measureSays } from '../sentences.js'

/** Where each segment's edge crosses half height (px across), by the levels of the segment's own ends; NaN where it does not. */
function crossingPx(profile: EdgeProfile): { acrossPx: number; inside: number; outside: number } {
  const bins = profile.count.length
  const plateau = Math.max(4, Math.round(bins / 8))
  const mean = (from: number, to: number): number => {
    let [count, sum] = [0, 0]
    for (let bin = from; bin < to; bin += 1) {
      count += profile.count[bin]!
      sum += profile.codeSum[bin]!
    }
    return sum / count
  }
  const inside = mean(0, plateau)
  const outside = mean(bins - plateau, bins)
  const half = (inside + outside) / 2
  let best = NaN
  let before: readonly [number, number] | null = null
  // One pixel's worth of bins at a time, so that a level edge, which fills one bin in four, has no gaps.
  for (let bin = 0; bin + 4 <= bins; bin += 1) {
    const code = mean(bin, bin + 4)
    let [count, sum] = [0, 0]
    for (let k = bin; k < bin + 4; k += 1) {
      count += profile.count[k]!
      sum += profile.acrossSum[k]!
    }
    if (count === 0) continue
    const here: readonly [number, number] = [sum / count, code]
    if (before !== null && (before[1] - half) * (code - half) <= 0 && before[1] !== code) {
      const across = before[0] + ((here[0] - before[0]) * (half - before[1])) / (code - before[1])
      if (!(Math.abs(across) >= Math.abs(best))) best = across
    }
    before = here
  }
  return { acrossPx: best, inside, outside }
}

/** The place of segment `index` along the side, as a share of its length from the middle. */
const placeOf = (index: number, shape: StripShape, line: SideLine): number =>
  (shape.fromPx + ((index + 0.5) * (shape.toPx - shape.fromPx)) / shape.segments) / line.lengthPx - 0.5

/**
 * A first line through the segments' half-height crossings (medians of pairwise slopes, Theil and Sen, so that a few segments with something
 * else beside them do no harm) and a first model. Fails where no edge crosses in most segments.
 */
export function firstLine(
  profiles: readonly EdgeProfile[],
  line: SideLine,
  shape: StripShape,
): Outcome<{ readonly line: SideLine; readonly model: EdgeModel }, EdgeFault> {
  const found = profiles
    .map((profile, index) => ({ ...crossingPx(profile), s: placeOf(index, shape, line) }))
    .filter(({ acrossPx }) => Number.isFinite(acrossPx))
  if (found.length < 3 || 2 * found.length < profiles.length) {
    return failure(measureSays['detail-no-contrast']())
  }
  const slopes = found.flatMap((a, i) =>
    found.slice(i + 1).map((b) => (b.acrossPx - a.acrossPx) / (b.s - a.s)),
  )
  const slopePx = median(slopes)
  const offsetPx = median(found.map(({ acrossPx, s }) => acrossPx - slopePx * s))
  const level = (codes: readonly number[]): number => Math.max(1e-4, linearFromCode(median(codes)))
  return success({
    line: { ...line, offsetPx, slopePx },
    model: {
      inside: level(found.map(({ inside }) => inside)),
      outside: level(found.map(({ outside }) => outside)),
      acrossPx: 0,
      sigmaPx: 1,
      halo: 0,
      haloRadiusPx: 1,
    },
  })
}

/** The line moved to where the quiet segments' edges lie: a parabola through their shifts against the pooled model (`edge`, `acrossPx` outward of the line), a straight line where they are few. */
export function alignedLine(
  line: SideLine,
  shape: StripShape,
  profiles: readonly EdgeProfile[],
  quiet: readonly number[],
  edge: EdgeAtBins,
  acrossPx: number,
): SideLine {
  const shifts = quiet.map((index) => {
    const profile = profiles[index]!
    let up = 0
    let down = 0
    for (let bin = 0; bin < profile.count.length; bin += 1) {
      const count = profile.count[bin]!
      if (count === 0) continue
      const slope = edge.gradient[6 * bin + 2]!
      up += (profile.codeSum[bin]! - count * codeInBin(edge, bin, profile.acrossSum[bin]! / count)) * slope
      down += count * slope * slope
    }
    return Math.max(-1.5, Math.min(1.5, up / down))
  })
  const places = quiet.map((index) => placeOf(index, shape, line))
  const [a, b, c] = parabola(places, shifts, quiet.length >= 6)
  return {
    ...line,
    offsetPx: line.offsetPx + acrossPx + a,
    slopePx: line.slopePx + b,
    bowPx: line.bowPx + c,
  }
}

/** Least squares y = a + b s + c s^2, c = 0 unless `bowed`. */
function parabola(s: readonly number[], y: readonly number[], bowed: boolean): [number, number, number] {
  const n = s.length
  const mean = (values: readonly number[]): number => values.reduce((sum, v) => sum + v, 0) / n
  const sMean = mean(s)
  const yMean = mean(y)
  const centred = s.map((v) => v - sMean)
  const sxx = mean(centred.map((v) => v * v))
  const slope = mean(centred.map((v, i) => v * (y[i]! - yMean))) / sxx
  if (!bowed) return [yMean - slope * sMean, slope, 0]
  // The square's part that neither the mean nor the slope explains.
  const skew = mean(centred.map((v) => v * v * v)) / sxx
  const bent = centred.map((v) => v * v - sxx - skew * v)
  const c = mean(bent.map((v, i) => v * y[i]!)) / mean(bent.map((v) => v * v))
  const b = slope - c * skew
  return [yMean - b * sMean - c * (sxx - sMean * sMean), b - 2 * c * sMean, c]
}
