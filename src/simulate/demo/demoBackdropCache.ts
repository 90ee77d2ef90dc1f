import type { ByteImage } from '../camera/codeImage.js'
import type { DemoLight } from '../yard/demoLight.js'
import type { Knock } from './demoScenario.js'
import { demoStation } from './demoStation.js'
import { encodeBackdrop } from './exposeBackdrop.js'
import type { LinearImage } from '../camera/linearImage.js'
import { renderBackground } from '../yard/renderBackground.js'
import { upscaleImage } from '../camera/upscaleImage.js'

/** The yard of one light without anyone in it, at half and full size in linear light, and in code values at a gain. */
export interface DemoBackdrop {
  readonly light: DemoLight
  readonly half: LinearImage
  readonly full: LinearImage
  codesAt(gain: number): ByteImage
}

/** Renders the yard once for a light and how the camera stands; the full size is the half enlarged, for only what stands in front of it is measured. The last gain's codes are kept. */
export function demoBackdrop(light: DemoLight, knock: Knock): DemoBackdrop {
  const half = renderBackground(demoStation(2, knock), light)
  const full: LinearImage = upscaleImage(half, 2)
  let last: { gain: number; codes: ByteImage } | null = null
  return {
    light,
    half,
    full,
    codesAt: (gain) => {
      if (last?.gain !== gain) last = { gain, codes: encodeBackdrop(full, gain) }
      return last.codes
    },
  }
}
