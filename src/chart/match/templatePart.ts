import type { ByteImage } from '../../still/searchBytes.js'
import type { ChartTemplate, TemplateSolver } from './template.js'
import { withoutNoise } from './matchChart.js'
import { mapPoint, type Homography } from '../../math/homography.js'
import { templateSolver } from './templateSolver.js'

/** So much of a template must be in the picture for it to be judged. */
const LEAST_SEEN = 0.42

/** Correlation over the samples in the picture; 0 where they are too few. */
export function seenCorrelation(
  samples: Float64Array,
  { count, value }: ChartTemplate,
  noiseVariance: number,
): number {
  let n = 0
  let [s, t, ss, st, tt] = [0, 0, 0, 0, 0]
  for (let at = 0; at < count; at += 1) {
    const a = samples[at]!
    if (Number.isNaN(a)) continue
    const b = value[at]!
    n += 1
    s += a
    t += b
    ss += a * a
    st += a * b
    tt += b * b
  }
  if (n < LEAST_SEEN * count) return 0
  const varianceS = ss - (s * s) / n
  const varianceT = tt - (t * t) / n
  if (!(varianceS > 0 && varianceT > 0)) return 0
  return (st - (s * t) / n) / Math.sqrt(withoutNoise(varianceS, n * noiseVariance) * varianceT)
}

/** The part of a template that a map takes into the picture; null where that is too little. */
export function partInside(
  template: ChartTemplate,
  map: Homography,
  { width, height }: ByteImage,
): ChartTemplate | null {
  const kept: number[] = []
  for (let at = 0; at < template.count; at += 1) {
    const [x, y] = mapPoint(map, template.x[at]!, template.y[at]!)
    if (x >= 0.5 && y >= 0.5 && x < width - 0.5 && y < height - 0.5) kept.push(at)
  }
  if (kept.length < LEAST_SEEN * template.count) return null
  const pick = (values: Float64Array): Float64Array => Float64Array.from(kept, (at) => values[at]!)
  const points = {
    count: kept.length,
    x: pick(template.x),
    y: pick(template.y),
    value: pick(template.value),
    slopeX: pick(template.slopeX),
    slopeY: pick(template.slopeY),
  }
  const solvers: (TemplateSolver | undefined)[] = []
  return {
    ...points,
    columns: 1,
    rows: kept.length,
    blurAcross: template.blurAcross,
    blurDown: template.blurDown,
    everySample: new Uint8Array(kept.length).fill(1),
    solver: (affine) => (solvers[affine ? 1 : 0] ??= templateSolver(points, affine)),
  }
}
