import { FIELD, type ModuleBox } from './chartGeometry.js'
import type { ChartTemplate } from './chartTemplate.js'
import { withoutNoise } from './matchChart.js'

/**
 * Windows of the chart that must each show what belongs there: both halves with their slabs, and the frame against the quiet paper on all
 * four sides. A thing that merely has a dark outline and a light and a dark side fails some of them.
 */
const WINDOWS: readonly ModuleBox[] = [
  { left: 2.7, top: 2.7, right: 6.7, bottom: 6.1 },
  { left: 7.3, top: 2.7, right: 11.3, bottom: 6.1 },
  { left: 2.4, top: 0.6, right: 11.6, bottom: 2.1 },
  { left: 2.4, top: 7.9, right: 11.6, bottom: 9.4 },
  { left: 0.6, top: 2.4, right: 2.1, bottom: 7.6 },
  { left: 11.9, top: 2.4, right: 13.4, bottom: 7.6 },
]

// This project's convention, from trials: the worst window of true charts at the limits of finding against that of impostors.
const LEAST_WINDOW_CORRELATION = 0.65
const LEAST_WINDOW_GAIN = 0.3
const MOST_WINDOW_GAIN = 2.2
/** A window of which less than this share is in sight is not judged; so many windows must be. */
const LEAST_IN_SIGHT = 0.6
const LEAST_JUDGED = 5
/** The whole is judged by what is left of it. */
const LEAST_WHOLE_IN_SIGHT = 0.4

/** What the windows of a match say: whether the chart's structure is there, and the lowest correlation of a window. */
export interface Structure {
  readonly holds: boolean
  readonly worst: number
}

/** Checks the windows of a match: correlation with the template in each, and contrast against that of the whole chart. */
export function chartStructure(
  samples: Float64Array,
  template: ChartTemplate,
  mask: Uint8Array,
  noiseVariance: number,
  leastJudged = LEAST_JUDGED,
): Structure {
  const field = { left: 0, top: 0, right: FIELD.width, bottom: FIELD.height }
  const whole = windowFit(samples, template, mask, field, noiseVariance, LEAST_WHOLE_IN_SIGHT)
  if (whole === null) return { holds: false, worst: -1 }
  let worst = 1
  let judged = 0
  let gainsHold = true
  for (const box of WINDOWS) {
    const fit = windowFit(samples, template, mask, box, noiseVariance)
    if (fit === null) continue
    judged += 1
    worst = Math.min(worst, fit.correlation)
    const ratio = fit.gain / whole.gain
    if (!(ratio > LEAST_WINDOW_GAIN && ratio < MOST_WINDOW_GAIN)) gainsHold = false
  }
  return { holds: judged >= leastJudged && gainsHold && worst >= LEAST_WINDOW_CORRELATION, worst }
}

function windowFit(
  samples: Float64Array,
  template: ChartTemplate,
  mask: Uint8Array,
  box: ModuleBox,
  noiseVariance: number,
  leastInSight = LEAST_IN_SIGHT,
): { correlation: number; gain: number } | null {
  let [n, all, s, t, ss, st, tt] = [0, 0, 0, 0, 0, 0, 0]
  for (let at = 0; at < template.count; at += 1) {
    const x = template.x[at]!
    const y = template.y[at]!
    if (x < box.left || x > box.right || y < box.top || y > box.bottom) continue
    all += 1
    const a = samples[at]!
    if (mask[at] === 0 || Number.isNaN(a)) continue
    const b = template.value[at]!
    n += 1
    s += a
    t += b
    ss += a * a
    st += a * b
    tt += b * b
  }
  if (n < leastInSight * all) return null
  const varianceS = ss - (s * s) / n
  const varianceT = tt - (t * t) / n
  const covariance = st - (s * t) / n
  if (!(varianceS > 0 && varianceT > 0)) return { correlation: 0, gain: 0 }
  return {
    correlation: covariance / Math.sqrt(withoutNoise(varianceS, n * noiseVariance) * varianceT),
    gain: covariance / varianceT,
  }
}
