import type { Quad } from '../math/point.js'
import { FRAME } from './chartGeometry.js'
import type { ChartTemplate } from './chartTemplate.js'
import type { ByteImage } from '../still/lumaBytes.js'
import { sampleThrough, withoutNoise } from './matchChart.js'
import { boxTo, type PlaneMap } from './planeMap.js'

/** What a quad looks like as a chart's frame. */
export interface QuadGlance {
  /** Modules to pixels, the way up that agrees best. */
  readonly map: PlaneMap
  readonly correlation: number
  /** The best agreement of any way up with the chart's mirror image. */
  readonly mirrored: number
}

/** A quad this much wider than high, or higher than wide, is tried only as the frame lying along it. */
const CLEAR_ASPECT = 1.25

/**
 * A quad (clockwise as seen) tried as the frame from each of its corners, and mirrored. The template's points lie evenly about the chart's
 * middle, so that one sampling serves a way up, the opposite one, and the mirror images of both. `samples`: as many as the template's. Null
 * where it is none, or of less contrast between paper and ink than `leastGain` code values.
 */
export function glanceQuad(
  image: ByteImage,
  quad: Quad,
  template: ChartTemplate,
  samples: Float64Array,
  noiseVariance: number,
  leastGain: number,
): QuadGlance | null {
  const [a, b, c, d] = quad
  const side = (p: readonly [number, number], q: readonly [number, number]): number =>
    Math.hypot(p[0] - q[0], p[1] - q[1])
  const aspect = (side(a, b) + side(c, d)) / (side(b, c) + side(d, a))
  const turned: Quad = [b, c, d, a]
  let best = null as QuadGlance | null
  for (const one of aspect > CLEAR_ASPECT ? [quad] : aspect < 1 / CLEAR_ASPECT ? [turned] : [quad, turned]) {
    const map = boxTo(FRAME, one)
    if (!map.every(Number.isFinite)) continue
    sampleThrough(image, map, template, samples)
    const seen = fourWays(samples, template, noiseVariance, leastGain)
    if (seen === null) continue
    const correlation = Math.max(seen.upright, seen.turned)
    const mirrored = Math.max(seen.mirrored, best?.mirrored ?? -1)
    if (best !== null && best.correlation >= correlation)
      best = { map: best.map, correlation: best.correlation, mirrored }
    else {
      const way: Quad = seen.upright >= seen.turned ? one : [one[2], one[3], one[0], one[1]]
      best = { map: seen.upright >= seen.turned ? map : boxTo(FRAME, way), correlation, mirrored }
    }
  }
  return best
}

function fourWays(
  samples: Float64Array,
  template: ChartTemplate,
  noiseVariance: number,
  leastGain: number,
): { upright: number; turned: number; mirrored: number } | null {
  const { columns, rows, count, value } = template
  let [s, ss, t, tt] = [0, 0, 0, 0]
  let [upright, turned, across, down] = [0, 0, 0, 0]
  for (let row = 0; row < rows; row += 1) {
    const base = row * columns
    const below = (rows - 1 - row) * columns
    for (let column = 0; column < columns; column += 1) {
      const sample = samples[base + column]!
      const other = columns - 1 - column
      s += sample
      ss += sample * sample
      t += value[base + column]!
      tt += value[base + column]! ** 2
      upright += sample * value[base + column]!
      turned += sample * value[below + other]!
      across += sample * value[base + other]!
      down += sample * value[below + column]!
    }
  }
  // A sample outside the picture makes all of them NaN.
  const variance = ss - (s * s) / count
  if (!(variance > 0)) return null
  const common = (s * t) / count
  const templateVariance = tt - (t * t) / count
  if (!(Math.max(upright, turned, across, down) - common > leastGain * templateVariance)) return null
  const scale = Math.sqrt(withoutNoise(variance, count * noiseVariance) * templateVariance)
  return {
    upright: (upright - common) / scale,
    turned: (turned - common) / scale,
    mirrored: (Math.max(across, down) - common) / scale,
  }
}
