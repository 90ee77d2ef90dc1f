import type { GreyImage } from '../../src/chart/match/greyImage.js'
import {
  FRAME,
  FRAME_HEIGHT_MODULES,
  FRAME_WIDTH_MODULES,
  moduleM,
} from '../../src/chart/printed/chartGeometry.js'
import type { ChartPaper } from '../../src/chart/printed/chartPapers.js'
import { boxTo, type Homography } from '../../src/math/homography.js'
import { codeFromLinear } from '../../src/math/srgb.js'
import { seededRandom } from '../../src/math/random.js'
import type { CameraStation } from '../../src/simulate/camera/cameraStation.js'
import { evenImage, type LinearImage } from '../../src/simulate/camera/linearImage.js'
import { paintTarget } from '../../src/simulate/camera/paintTarget.js'
import type { PlanarTarget, Surface } from '../../src/simulate/camera/planarTarget.js'
import { targetPose } from '../../src/simulate/camera/targetPose.js'
import { targetTruth } from '../../src/simulate/camera/targetTruth.js'
import { along } from '../../src/simulate/camera/worldVector.js'
import { carriedChart } from '../../src/simulate/walker/carriedChart.js'
import { stripSurface } from './stripSurface.js'

/** A chart with the sheet of strips flush under it, as the sensor gets it. */
export interface StripScene {
  readonly paper: ChartPaper
  readonly pxPerM: number
  readonly blurSigmaPx: number
  readonly yawRad?: number
  readonly pitchRad?: number
  readonly rollRad?: number
  /** How the sheet was taped: metres right and down of flush, turned clockwise. */
  readonly taped?: { readonly rightM: number; readonly downM: number; readonly turnRad: number }
  readonly withStrips?: boolean
  /** What is on the sheet in place of the strips. */
  readonly surface?: Surface
  /** Part of a pixel that the whole scene lies aside. */
  readonly asidePx?: number
  readonly ink?: number
  readonly covering?: (pose: Pose, paper: ChartPaper) => readonly PlanarTarget[]
}
type Pose = Pick<PlanarTarget, 'centre' | 'right' | 'down'>

/** The scene in linear light and the map of the chart's modules into it. */
export function renderStrips(scene: StripScene): { light: LinearImage; map: Homography } {
  const { paper, pxPerM } = scene
  const width = 8 * Math.ceil((1.25 * paper.widthM * pxPerM + 40) / 8)
  const height = 8 * Math.ceil((2.5 * paper.heightM * pxPerM + 40) / 8)
  const pixelsPerRadian = 3000
  const lens = { p: 1, pixelsPerRadian, centreX: width / 2 + (scene.asidePx ?? 0), centreY: height / 2 }
  const station: CameraStation = { width, height, lens, mountHeightM: 2, tiltRad: 0 }
  const distanceM = pixelsPerRadian / pxPerM
  const pose = targetPose(station, {
    distanceM,
    heightM: 2 + 0.55 * paper.heightM,
    bearingRad: 0,
    yawRad: scene.yawRad ?? 0.05,
    pitchRad: scene.pitchRad ?? 0.03,
    rollRad: scene.rollRad ?? 0.012,
  })
  const light = evenImage({ left: 0, top: 0, width, height }, 1, 0.2)
  const options = { perPixel: 4, blurSigmaPx: scene.blurSigmaPx }
  paintTarget(light, station, { ...carriedChart(paper), ...pose }, options)
  if (scene.withStrips !== false) {
    const { rightM, downM, turnRad } = scene.taped ?? { rightM: 0.004, downM: 0.003, turnRad: 0.008 }
    const centre = along(along(pose.centre, pose.right, rightM), pose.down, paper.heightM + downM)
    const [cos, sin] = [Math.cos(turnRad), Math.sin(turnRad)]
    const turned = (a: Pose['right'], b: Pose['right'], ca: number, cb: number): Pose['right'] => [
      ca * a[0] + cb * b[0],
      ca * a[1] + cb * b[1],
      ca * a[2] + cb * b[2],
    ]
    const sheet: PlanarTarget = {
      centre,
      right: turned(pose.right, pose.down, cos, sin),
      down: turned(pose.right, pose.down, -sin, cos),
      halfWidthM: paper.widthM / 2,
      halfHeightM: paper.heightM / 2,
      surface: scene.surface ?? stripSurface(paper, 0.75, 0.75 * (scene.ink ?? 0.06)),
    }
    paintTarget(light, station, sheet, options)
  }
  for (const target of scene.covering?.(pose, paper) ?? []) paintTarget(light, station, target, options)
  const module = moduleM(paper)
  const truth = targetTruth(station, pose, FRAME_WIDTH_MODULES * module, FRAME_HEIGHT_MODULES * module)
  return { light, map: boxTo(FRAME, truth.corners) }
}

/** Electrons at white and read noise in them: none where null. */
export interface Sensor {
  readonly electrons: number | null
  readonly gain: number
  readonly seed: number
}

/** Linear light with photon noise, as a sensor gives it. */
export function sense({ data, ...rest }: LinearImage, { electrons, gain, seed }: Sensor): LinearImage {
  const random = seededRandom(seed)
  const noisy = data.map((value) => {
    const light = value * gain
    if (electrons === null) return light
    return light + Math.sqrt(Math.max(0, light) / electrons + (2 / electrons) ** 2) * random.normal()
  })
  return { ...rest, data: noisy }
}

/** A sensor's light as code values of 8 bits. */
export function coded({ width, height, data }: LinearImage): GreyImage {
  return {
    width,
    height,
    data: data.map((light) => Math.round(Math.min(255, Math.max(0, codeFromLinear(Math.max(0, light)))))),
  }
}

/** A filter on linear light that keeps edges: Gaussian in space and in light. */
export function bilateral(image: LinearImage, sigmaPx: number, sigmaLight: number): LinearImage {
  const { width, height, data } = image
  const reach = Math.ceil(2 * sigmaPx)
  const out = new Float32Array(data.length)
  for (let y = 0; y < height; y += 1)
    for (let x = 0; x < width; x += 1) {
      const middle = data[y * width + x]!
      let [sum, weights] = [0, 0]
      for (let j = Math.max(0, y - reach); j <= Math.min(height - 1, y + reach); j += 1)
        for (let i = Math.max(0, x - reach); i <= Math.min(width - 1, x + reach); i += 1) {
          const value = data[j * width + i]!
          const weight = Math.exp(
            -((i - x) ** 2 + (j - y) ** 2) / (2 * sigmaPx ** 2) -
              (value - middle) ** 2 / (2 * sigmaLight ** 2),
          )
          sum += weight * value
          weights += weight
        }
      out[y * width + x] = sum / weights
    }
  return { ...image, data: out }
}

/** An unsharp mask. */
export function unsharp(image: LinearImage, sigmaPx: number, amount: number): LinearImage {
  const soft = bilateral(image, sigmaPx, 1e6)
  return { ...image, data: image.data.map((value, at) => value + amount * (value - soft.data[at]!)) }
}
