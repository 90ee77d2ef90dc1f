import { sigmaOfF10 } from '../edge/gaussianPixelMtf.js'
import { measureSays } from '../sentences.js'
import { problem } from '../../sentences.js'
import type { Problem, Sharpness } from '../stillMeasurement.js'

/** A smear is told from so many px on, where one direction's blur is so many times the other's: lenses and codecs leave less. This project's convention. */
const LEAST_SMEAR_PX = 1.5
const LEAST_TIMES = 1.25

/**
 * Whether a reference moved while the shutter was open: along one direction it is then blurred by an even smear, of variance L^2 / 12, and not along the other. Null where it did
 * not, or f10 is not known well enough to tell.
 */
export function smear({ horizontal, vertical, f10OwnU }: Sharpness): Problem | null {
  if (f10OwnU === undefined || Math.abs(horizontal.mtf10 - vertical.mtf10) < 2 * f10OwnU) return null
  const [across, along] = [sigmaOfF10(horizontal.mtf10), sigmaOfF10(vertical.mtf10)]
  const [more, less] = [Math.max(across, along), Math.min(across, along)]
  const smearPx = Math.sqrt(12 * (more ** 2 - less ** 2))
  if (smearPx < LEAST_SMEAR_PX || more < LEAST_TIMES * less) return null
  return problem(measureSays.moving(smearPx, across > along))
}
