import type { StillMeasurement } from '../../measure/stillMeasurement.js'
import type { BoundCause } from '../sentences.js'

/** Codes under which measuring tells that a still may have been, or was, sharpened or smoothed. */
const SIGNS = ['may-be-processed', 'may-be-sharpened', 'sharpened', 'lifted', 'sharpness-ways-differ']
/** From so much noise on, code values, a recorder's noise reduction sets in: dusk is about as noisy (simulated, 800 electrons at white). This project's convention. */
const NOISY_CODE = 4

/** Whether a light is daylight by its name: in any other the camera's noise reduction is at work. */
export function isDaylight(light: string): boolean {
  return /^day/i.test(light)
}

/**
 * Why a still's detail is an upper bound; null where it tells none, or where nothing speaks for it. Behind edge-preserving noise reduction strong edges stay sharp while fine, faint
 * strokes go (measured: f10 1.5 to 1.9 times that of the lens), and neither board nor chart shows that: so it is said by day only where the still shows it, and in
 * every light whose name does not begin with "day" always. A still without a light is judged by what it shows. This project's convention.
 */
export function detailBound(
  { sharpness, strip, tone, problems }: Pick<StillMeasurement, 'sharpness' | 'strip' | 'tone' | 'problems'>,
  light: string | null,
): BoundCause | null {
  // What the strips tell is what the processing left.
  if (sharpness === null || (strip ?? null) !== null) return null
  if (problems.some(({ code }) => SIGNS.includes(code))) return 'signs'
  if (light !== null && !isDaylight(light)) return 'night'
  return tone !== null && tone.noise >= NOISY_CODE ? 'noise' : null
}
