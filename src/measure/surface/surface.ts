import type { Point, Quad } from '../../math/point.js'
import type { StillPixels } from '../../still/raster.js'
import { sigmaOfF10 } from '../edge/gaussianPixelMtf.js'
import { exportSigns } from '../export/exportSigns.js'
import type { Reference } from '../reference/reference.js'
import { regionNeeded } from '../regionNeeded.js'
import { measureSharpness } from '../edge/sharpness.js'
import type { Problem, Sharpness, StripDetail, Tone, ToneElement } from '../stillMeasurement.js'
import { measureTone } from '../tone/tone.js'
import { problem } from '../../sentences.js'
import { measureSays } from '../sentences.js'

/** What can be told of a reference's surface, null where it cannot; the problems say why. */
export interface Surface {
  readonly sharpness: Sharpness | null
  readonly tone: Tone | null
  /** What the strips beside it told; left out where it carries none. */
  readonly strip?: StripDetail | null | undefined
  readonly problems: readonly Problem[]
}

/**
 * Detail and tone of a reference, and what its pixels betray of the still's export. `corners` are image coordinates, px; only the region
 * around them is decoded, once. A length has no surface.
 */
export async function measureSurface(
  still: StillPixels,
  against: {
    readonly reference: Reference
    readonly elements: readonly ToneElement[]
    readonly fullDetailAt: number
  },
  corners: readonly Point[],
  densityPxPerM: number,
): Promise<Surface> {
  const { reference, elements, fullDetailAt } = against
  if (reference.kind === 'length') {
    return { sharpness: null, tone: null, problems: [problem(measureSays['no-surface']())] }
  }
  const quad = corners as unknown as Quad
  const raster = await still.region(regionNeeded(quad, still.width, still.height))
  const { sharpness, problems: ofDetail } = measureSharpness(raster, quad, { fullDetailAt })
  const blurSigmaPx =
    sharpness === null ? null : sigmaOfF10(Math.min(sharpness.horizontal.mtf10, sharpness.vertical.mtf10))
  const { tone, problems: ofTone } = measureTone(raster, quad, reference, {
    elements,
    densityPxPerM,
    blurSigmaPx,
  })
  return { sharpness, tone, problems: [...ofDetail, ...ofTone, ...exportSigns(raster)] }
}
