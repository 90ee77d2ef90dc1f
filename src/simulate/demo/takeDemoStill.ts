import { type DemoStill, demoStillFile } from './demoScenario.js'
import type { Exposure } from '../camera/exposeImage.js'
import { seededRandom, type Random } from '../../math/random.js'
import type { PixelRegion } from '../../still/raster.js'
import { burnInCaption } from './burnInCaption.js'
import type { ByteImage, CodeImage } from '../camera/codeImage.js'
import { coveredRegion } from '../camera/coveredRegion.js'
import type { DemoBackdrop } from './demoBackdropCache.js'
import type { DemoLightName } from '../yard/demoLight.js'
import { demoScene, type DemoScene } from './demoScene.js'
import { demoStation } from './demoStation.js'
import { wholeCodes } from '../camera/encodeJpeg.js'
import { grainBackdrop } from './exposeBackdrop.js'
import { cropImage } from '../camera/linearImage.js'
import { targetTruth, type TargetTruth } from '../camera/targetTruth.js'
import { takeStill } from '../camera/virtualCamera.js'
import { power } from '../../math/power.js'

/** A still of the demonstration and what is true of the reference in it, in px of the exported still. */
export interface TakenDemoStill {
  readonly image: ByteImage
  readonly truth: TargetTruth
  /** First crossing of 10 % modulation, cycles per exported pixel. */
  readonly f10: number
}

/** Blur of the optics, px of the size it is taken at; infrared comes to focus elsewhere than daylight. */
const BLUR_SIGMA_PX: Readonly<Record<DemoLightName, number>> = { day: 0.6, infrared: 0.85, lamp: 0.65 }
/** Ground left around the figure by the virtual camera proper; beyond it there is only backdrop. */
const MARGIN_PX = 24

/** Takes one still: who stands there, exposure, noise and caption. The same still every time. */
export function takeDemoStill(backdrop: DemoBackdrop, still: DemoStill): TakenDemoStill {
  const random = seededRandom(stillSeed(still))
  const station = demoStation(still.blownUp, still.knock)
  const scene = demoScene(station, backdrop.light, still, random)
  const taken = still.blownUp === 1 ? takeAtFullSize : takeBlownUp
  const { image, f10 } = taken(backdrop, still, scene, random)
  burnInCaption(image)
  const { pose, carried } = scene
  return {
    image,
    truth: targetTruth(demoStation(1, still.knock), pose, carried.widthM, carried.heightM),
    f10,
  }
}

type Taken = (
  backdrop: DemoBackdrop,
  still: DemoStill,
  scene: DemoScene,
  random: Random,
) => { image: ByteImage; f10: number }

/** Figure and reference by the virtual camera, set into the backdrop under the same exposure. */
const takeAtFullSize: Taken = (backdrop, still, scene, random) => {
  const station = demoStation(1, still.knock)
  const exposure = demoExposure(still, scene.referenceLight)
  const region = figureRegion(scene, station)
  const { image, f10 } = takeStill(
    {
      station,
      background: cropImage(backdrop.full, region),
      targets: scene.targets,
      blurSigmaPx: BLUR_SIGMA_PX[still.light],
      exposure,
    },
    random,
  )
  const whole = grainBackdrop(backdrop.codesAt(exposure.gain), exposure, random)
  setInto(whole, image)
  return { image: whole, f10 }
}

/** The whole picture at half size, blown up as a player's export does. */
const takeBlownUp: Taken = (backdrop, still, scene, random) => {
  const { image, f10 } = takeStill(
    {
      station: demoStation(2, still.knock),
      background: backdrop.half,
      targets: scene.targets,
      blurSigmaPx: BLUR_SIGMA_PX[still.light],
      exposure: demoExposure(still, scene.referenceLight),
      upscale: 2,
    },
    random,
  )
  const { width, height, channels } = image
  return { image: { width, height, channels, data: wholeCodes(image.data) }, f10 }
}

function figureRegion(scene: DemoScene, station: ReturnType<typeof demoStation>): PixelRegion {
  const picture = { left: 0, top: 0, width: station.width, height: station.height }
  const regions = scene.targets.flatMap(
    ({ target }) => coveredRegion(station, target, MARGIN_PX, picture) ?? [],
  )
  const left = Math.min(...regions.map((region) => region.left))
  const top = Math.min(...regions.map((region) => region.top))
  return {
    left,
    top,
    width: Math.max(...regions.map((region) => region.left + region.width)) - left,
    height: Math.max(...regions.map((region) => region.top + region.height)) - top,
  }
}

function setInto(whole: ByteImage, part: CodeImage): void {
  const codes = wholeCodes(part.data)
  const row = part.width * part.channels
  for (let y = 0; y < part.height; y += 1) {
    const to = ((part.top + y) * whole.width + part.left) * whole.channels
    whole.data.set(codes.subarray(y * row, (y + 1) * row), to)
  }
}

/** A whole number made of the still's path (FNV-1a). */
export function stillSeed(still: DemoStill): number {
  let seed = 2166136261
  for (const letter of demoStillFile(still)) seed = Math.imul(seed ^ letter.charCodeAt(0), 16777619)
  return seed >>> 0
}

/** Share of light a white board throws back: what the automatic exposure under infrared looks at. */
const BOARD_WHITE = 0.75

/** How the camera exposes a still. `referenceLight`: light on a white surface held like the reference, 1 = white at gain 1. */
export function demoExposure(still: DemoStill, referenceLight: number): Exposure {
  if (still.light === 'day') return { gain: 1.15, readNoiseDn: 1.1, shotNoiseDn: 1.5 }
  if (still.light === 'lamp') return { gain: 2.6, readNoiseDn: 3.4, shotNoiseDn: 3.5 }
  // The camera turns its gain up as the lit thing goes away, but not by all that the light falls.
  const level = 0.8 * power(4 / still.trueM, 1.8)
  return { gain: level / (BOARD_WHITE * referenceLight), readNoiseDn: 3, shotNoiseDn: 3 }
}
