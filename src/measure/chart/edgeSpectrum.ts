import { BINS_PER_PX } from './chartEdges.js'

/** A modulation curve: frequencies in cycles/px, modulation 1 at zero. */
export interface ModulationCurve {
  readonly frequency: readonly number[]
  readonly modulation: readonly number[]
}

/** Frequencies of the curve: to one cycle/px in steps of 1/200. */
const STEPS = 200
/** Share of the window, from its middle, that is left at full height: the rest falls as a cosine. */
const FLAT_SHARE = 0.6

/**
 * Modulation of an oversampled edge (quarter-pixel bins, dark to light, the edge in the middle), after ISO 12233's edge-based steps: difference,
 * window, Fourier transform, normalised at zero. The window is flat-topped (a short tapered one reads a blurred edge too sharp); the two-point
 * difference and the bin's own width are divided out: sinc(f/4) each.
 */
export function edgeSpectrum(light: Float64Array): ModulationCurve {
  const filled = fillGaps(light)
  const n = filled.length - 1
  const spread = new Float64Array(n)
  for (let k = 0; k < n; k += 1) {
    const off = Math.abs((2 * (k + 1)) / (n + 1) - 1)
    const taper =
      off <= FLAT_SHARE ? 1 : 0.5 + 0.5 * Math.cos((Math.PI * (off - FLAT_SHARE)) / (1 - FLAT_SHARE))
    spread[k] = (filled[k + 1]! - filled[k]!) * taper
  }
  const total = spread.reduce((sum, value) => sum + value, 0)
  const frequency: number[] = []
  const modulation: number[] = []
  for (let step = 0; step <= STEPS; step += 1) {
    const f = step / STEPS
    const turn = (2 * Math.PI * f) / BINS_PER_PX
    // Turned on by the same angle from bin to bin: a cosine and a sine of each would cost most of the sharpness.
    const [cosStep, sinStep] = [Math.cos(turn), Math.sin(turn)]
    let re = 0
    let im = 0
    let cos = 1
    let sin = 0
    for (let k = 0; k < n; k += 1) {
      re += spread[k]! * cos
      im += spread[k]! * sin
      const next = cos * cosStep - sin * sinStep
      sin = cos * sinStep + sin * cosStep
      cos = next
    }
    const x = (Math.PI * f) / BINS_PER_PX
    const own = x === 0 ? 1 : Math.sin(x) / x
    frequency.push(f)
    modulation.push(Math.hypot(re, im) / Math.abs(total) / (own * own))
  }
  return { frequency, modulation }
}

/** The first frequency at which a curve falls below `level`, linear between its points; null where it never does. */
export function firstCrossing(curve: ModulationCurve, level: number): number | null {
  for (let k = 1; k < curve.modulation.length; k += 1) {
    const [before, after] = [curve.modulation[k - 1]!, curve.modulation[k]!]
    if (before >= level && after < level) {
      const t = (before - level) / (before - after)
      return curve.frequency[k - 1]! + t * (curve.frequency[k]! - curve.frequency[k - 1]!)
    }
  }
  return null
}

/** Empty bins get the mean of their filled neighbours. */
function fillGaps(light: Float64Array): Float64Array {
  const out = light.slice()
  for (let k = 0; k < out.length; k += 1) {
    if (!Number.isNaN(out[k]!)) continue
    let after = k
    while (after < out.length && Number.isNaN(light[after]!)) after += 1
    const left = k > 0 ? out[k - 1]! : light[after]!
    out[k] = after < out.length ? left + (light[after]! - left) / (after - k + 1) : left
  }
  return out
}
