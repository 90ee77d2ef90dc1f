import type { Knock } from './demoScenario.js'
import type { CameraStation } from '../camera/cameraStation.js'

const WIDTH = 3840
const HEIGHT = 2160
/** The demonstration's true lens, px per radian at the centre: 100 degrees across, every degree alike (p = 0). Its data sheet says otherwise. */
const PIXELS_PER_RADIAN = 2200

/** The demonstration's camera at its full export size divided by a whole number, where it stands, or knocked. */
export function demoStation(divideBy: number, knock: Knock = { rightDeg: 0, lowerDeg: 0 }): CameraStation {
  return {
    width: WIDTH / divideBy,
    height: HEIGHT / divideBy,
    lens: {
      p: 0,
      pixelsPerRadian: PIXELS_PER_RADIAN / divideBy,
      centreX: WIDTH / divideBy / 2,
      centreY: HEIGHT / divideBy / 2,
    },
    mountHeightM: 2.6,
    tiltRad: ((12 + knock.lowerDeg) * Math.PI) / 180,
    panRad: (knock.rightDeg * Math.PI) / 180,
  }
}
