import { normalIntegral } from '../../math/normalIntegral.js'
import { FIELD, type ModuleBox } from '../printed/chartGeometry.js'
import type { ChartTemplate } from './template.js'
import { withoutNoise } from './matchChart.js'

/**
 * Windows of the chart that must each show what belongs there: both halves with their slabs, and the frame against the quiet paper on all
 * four sides. A thing that merely has a dark outline and a light and a dark side fails some of them.
 */
const WINDOWS: readonly ChartWindow[] = [
  { box: { left: 2.7, top: 2.7, right: 6.7, bottom: 6.1 }, edge: null },
  { box: { left: 7.3, top: 2.7, right: 11.3, bottom: 6.1 }, edge: null },
  { box: { left: 2.4, top: 0.6, right: 11.6, bottom: 2.1 }, edge: (_, y) => y },
  { box: { left: 2.4, top: 7.9, right: 11.6, bottom: 9.4 }, edge: (_, y) => FIELD.height - y },
  { box: { left: 0.6, top: 2.4, right: 2.1, bottom: 7.6 }, edge: (x) => x },
  { box: { left: 11.9, top: 2.4, right: 13.4, bottom: 7.6 }, edge: (x) => FIELD.width - x },
]

/** A window; `edge`: how far inside the sheet's nearest edge a point lies, modules, where what lies behind the sheet may show through the blur. */
interface ChartWindow {
  readonly box: ModuleBox
  readonly edge: ((x: number, y: number) => number) | null
}

// This project's convention, from trials: the worst window of true charts at the limits of finding against that of impostors.
const LEAST_WINDOW_CORRELATION = 0.65
const LEAST_WINDOW_GAIN = 0.3
const MOST_WINDOW_GAIN = 2.2
/** A window of which less than this share is in sight is not in sight; so many windows must be. */
const LEAST_IN_SIGHT = 0.6
const LEAST_WINDOWS = 5
/** So many of them may have nothing to tell. */
const MOST_EXCUSED = 1
/** A window where the template's variance is less than this share of the whole's has nothing to tell: a blur of a module leaves no rim between paper and the light half. */
const LEAST_TOLD = 0.025
/** Nor has one where the template's variance, in code values, is less than so many times the noise's. */
const LEAST_OVER_NOISE = 0.5
/** Less variance of what lies behind is none. */
const LEAST_BEHIND = 1e-4

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
): Structure {
  const whole = windowFit(samples, template, mask, WHOLE, noiseVariance)
  if (whole === null) return { holds: false, worst: -1 }
  let worst = 1
  let inSight = 0
  let judged = 0
  let allShow = true
  for (const window of WINDOWS) {
    const fit = windowFit(samples, template, mask, window, noiseVariance)
    if (fit === null) continue
    inSight += 1
    const ratio = fit.gain / whole.gain
    const shows =
      fit.correlation >= LEAST_WINDOW_CORRELATION && ratio > LEAST_WINDOW_GAIN && ratio < MOST_WINDOW_GAIN
    // Where blur or noise leaves next to nothing to be seen, nothing is missed either.
    const visible = fit.told * whole.gain ** 2 > LEAST_OVER_NOISE * noiseVariance
    if (!shows && (fit.told < LEAST_TOLD * whole.told || !visible)) continue
    judged += 1
    if (!shows) allShow = false
    worst = Math.min(worst, fit.correlation)
  }
  return {
    holds: allShow && inSight >= LEAST_WINDOWS && judged >= LEAST_WINDOWS - MOST_EXCUSED,
    worst,
  }
}

const WHOLE: ChartWindow = { box: { left: 0, top: 0, right: 14, bottom: 10 }, edge: null }

/** Sums of products of the samples, the template and the light from behind the sheet, all less their means. */
interface WindowFit {
  readonly correlation: number
  readonly gain: number
  /** Variance of the template that nothing else explains. */
  readonly told: number
}

/** How samples of a window hang together with the template: as they are, or once what lies behind the sheet is taken out of both, whichever agrees better. */
function windowFit(
  samples: Float64Array,
  template: ChartTemplate,
  mask: Uint8Array,
  { box, edge }: ChartWindow,
  noiseVariance: number,
): WindowFit | null {
  let [n, all, s, t, b, ss, st, tt, sb, tb, bb] = [0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0]
  const blur = box.bottom - box.top > box.right - box.left ? template.blurAcross : template.blurDown
  for (let at = 0; at < template.count; at += 1) {
    const x = template.x[at]!
    const y = template.y[at]!
    if (x < box.left || x > box.right || y < box.top || y > box.bottom) continue
    all += 1
    const sample = samples[at]!
    if (mask[at] === 0 || Number.isNaN(sample)) continue
    const value = template.value[at]!
    const behind = edge === null ? 0 : normalIntegral(-edge(x, y) / blur)
    n += 1
    s += sample
    t += value
    b += behind
    ss += sample * sample
    st += sample * value
    tt += value * value
    sb += sample * behind
    tb += value * behind
    bb += behind * behind
  }
  if (n < LEAST_IN_SIGHT * all) return null
  const plain = fitOf(ss - (s * s) / n, st - (s * t) / n, tt - (t * t) / n, n, noiseVariance)
  const varianceB = bb - (b * b) / n
  if (!(varianceB > LEAST_BEHIND * n)) return plain
  const [withS, withT] = [sb - (s * b) / n, tb - (t * b) / n]
  const freed = fitOf(
    ss - (s * s) / n - withS ** 2 / varianceB,
    st - (s * t) / n - (withS * withT) / varianceB,
    tt - (t * t) / n - withT ** 2 / varianceB,
    n,
    noiseVariance,
  )
  return freed.correlation > plain.correlation ? freed : { ...plain, told: freed.told }
}

function fitOf(
  varianceS: number,
  covariance: number,
  varianceT: number,
  n: number,
  noiseVariance: number,
): WindowFit {
  if (!(varianceS > 0 && varianceT > 0)) return { correlation: 0, gain: 0, told: 0 }
  return {
    correlation: covariance / Math.sqrt(withoutNoise(varianceS, n * noiseVariance) * varianceT),
    gain: covariance / varianceT,
    told: varianceT / n,
  }
}
