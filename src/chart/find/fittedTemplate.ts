import { chartTemplates } from '../match/chartTemplate.js'
import type { ChartTemplate } from '../match/template.js'
import { APERTURE_VARIANCE } from '../fit/chartParameters.js'
import { jacobianAt, type Homography } from '../../math/homography.js'
import { SAMPLE_STEP_MODULES } from '../match/searchTemplates.js'

/** Variance that sampling between pixel centres adds on average, px^2: t (1 - t) over all places t between two. */
const BILINEAR_VARIANCE = 1 / 6
/** Blurs drawn at all, modules. */
const LEAST_BLUR = 0.2
const MOST_BLUR = 1.4

/**
 * A face's template with the blur a fit has read, as a picture halved `level` times shows it. `map`: modules to that picture's px; `blurPx`: across upright and across
 * level edges, in the still's px, without the pixel's aperture.
 */
export function fittedTemplate(
  map: Homography,
  level: number,
  face: number,
  blurPx: readonly [number, number],
): ChartTemplate {
  const { alongX, alongY } = jacobianAt(map, 7, 5)
  const modules = (blur: number, pxPerModule: number): number => {
    const px = Math.sqrt((blur / 2 ** level) ** 2 + APERTURE_VARIANCE + BILINEAR_VARIANCE)
    return Math.min(MOST_BLUR, Math.max(LEAST_BLUR, px / pxPerModule))
  }
  const across = modules(blurPx[0], Math.hypot(...alongX))
  const down = modules(blurPx[1], Math.hypot(...alongY))
  return chartTemplates(across, SAMPLE_STEP_MODULES, down).face(face)
}
