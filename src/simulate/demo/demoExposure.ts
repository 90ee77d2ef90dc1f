import type { DemoStill } from './demoScenario.js'
import type { Exposure } from '../camera/exposeImage.js'

/** Share of light a white board throws back: what the automatic exposure under infrared looks at. */
const BOARD_WHITE = 0.75

/** How the camera exposes a still. `referenceLight`: light on a white surface held like the reference, 1 = white at gain 1. */
export function demoExposure(still: DemoStill, referenceLight: number): Exposure {
  if (still.light === 'day') return { gain: 1.15, readNoiseDn: 1.1, shotNoiseDn: 1.5 }
  if (still.light === 'lamp') return { gain: 2.6, readNoiseDn: 3.4, shotNoiseDn: 3.5 }
  // The camera turns its gain up as the lit thing goes away, but not by all that the light falls.
  const level = 0.8 * (4 / still.trueM) ** 1.8
  return { gain: level / (BOARD_WHITE * referenceLight), readNoiseDn: 3, shotNoiseDn: 3 }
}
