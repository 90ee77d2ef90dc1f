import { createHash } from 'node:crypto'
import type { ChartPaper } from '../../src/chart/printed/chartPapers.js'
import { seededRandom } from '../../src/math/random.js'
import { carriedChart } from '../../src/simulate/walker/carriedChart.js'
import {
  carriedPlate,
  PLATE_BY_DAY,
  type CarriedReference,
} from '../../src/simulate/walker/demoReferences.js'
import type { CameraStation } from '../../src/simulate/camera/cameraStation.js'
import { encodeJpeg } from '../../src/simulate/camera/encodeJpeg.js'
import { evenImage } from '../../src/simulate/camera/linearImage.js'
import { simulateClicks } from '../../src/simulate/camera/simulateClicks.js'
import type { PlanarTarget } from '../../src/simulate/camera/planarTarget.js'
import { targetPose } from '../../src/simulate/camera/targetPose.js'
import { targetTruth, type TargetTruth } from '../../src/simulate/camera/targetTruth.js'
import { takeStill } from '../../src/simulate/camera/virtualCamera.js'

/** A thing held before the camera; `offM` to the right of its axis, `upM` over it. */
export interface Held {
  readonly carried: CarriedReference
  readonly distanceM: number
  readonly offM?: number
  readonly upM?: number
  /** What becomes of it where it stands: bent, shadowed. */
  readonly spoilt?: (carried: CarriedReference, station: CameraStation, pose: HeldPose) => CarriedReference
  /** What lies over it. */
  readonly covering?: (pose: HeldPose) => readonly PlanarTarget[]
}

export type HeldPose = Pick<PlanarTarget, 'centre' | 'right' | 'down'>

/** How a scene is seen, where it is seen otherwise than on a bright day through a sharp lens. */
export interface SceneOptions {
  readonly seed?: number
  readonly mirrored?: boolean
  readonly blurSigmaPx?: number
  readonly gain?: number
  readonly noiseDn?: number
  readonly yawRad?: number
}

/** A still as a file, with what is true of the first thing in it. */
export interface SceneStill {
  readonly bytes: Buffer
  readonly sha256: string
  readonly truth: TargetTruth
  /** First crossing of 10 % modulation of optics and pixel, cycles/px. */
  readonly f10: number
}

const STATION: CameraStation = {
  width: 960,
  height: 720,
  lens: { p: 1, pixelsPerRadian: 1400, centreX: 480, centreY: 360 },
  mountHeightM: 2.6,
  tiltRad: 0,
}

export const chartAt = (paper: ChartPaper, distanceM: number, scale = 1): Held => ({
  carried: carriedChart(paper, scale),
  distanceM,
  offM: 0.1,
  upM: 0.05,
})

export const plateAt = (distanceM: number): Held => ({ carried: carriedPlate(PLATE_BY_DAY), distanceM })

/** Takes a still of things on even ground by day, a few degrees off square, through JPEG. `mirrored` flips it. */
export async function takeScene(things: readonly Held[], options: SceneOptions = {}): Promise<SceneStill> {
  const random = seededRandom(options.seed ?? 7)
  const posed = things.map(({ carried, distanceM, offM = 0, upM = 0, spoilt, covering }) => {
    const place = {
      distanceM,
      heightM: 2.6 + upM,
      bearingRad: Math.asin(offM / distanceM),
      yawRad: options.yawRad ?? 0.06,
      pitchRad: 0.05,
      rollRad: 0.03,
    }
    const pose = targetPose(STATION, place)
    const seen = spoilt?.(carried, STATION, pose) ?? carried
    return { carried, pose, targets: [{ ...seen, ...pose }, ...(covering?.(pose) ?? [])] }
  })
  const { image, f10 } = takeStill(
    {
      station: STATION,
      background: evenImage({ left: 0, top: 0, width: 960, height: 720 }, 1, 0.22),
      targets: posed.flatMap(({ targets }) => targets.map((target) => ({ target }))),
      blurSigmaPx: options.blurSigmaPx ?? 0.7,
      exposure: { gain: options.gain ?? 1, readNoiseDn: options.noiseDn ?? 1.5, shotNoiseDn: 1 },
    },
    random,
  )
  if (options.mirrored === true)
    for (let row = 0; row < image.height; row += 1)
      image.data.subarray(row * image.width, (row + 1) * image.width).reverse()
  const bytes = await encodeJpeg(image, 92)
  const { carried, pose } = posed[0]!
  return {
    bytes,
    sha256: createHash('sha256').update(bytes).digest('hex'),
    f10,
    truth: targetTruth(STATION, pose, carried.widthM, carried.heightM),
  }
}

/** An entry of picks.json for the first thing in a still, as a hand would click it. */
export function clickedPick(still: SceneStill, reference: string) {
  const corners = simulateClicks(still.truth.corners, { sigmaPx: 0.5, outwardPx: 0.15 }, seededRandom(3))
  return { sha256: still.sha256, reference, corners, sigma: 0.5, method: 'hand' }
}
