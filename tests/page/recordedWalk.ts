import { seededRandom } from '../../src/math/random.js'
import type { CameraStation } from '../../src/simulate/camera/cameraStation.js'
import { carriedBoard } from '../../src/simulate/walker/demoReferences.js'
import { encodeJpeg } from '../../src/simulate/camera/encodeJpeg.js'
import { evenImage } from '../../src/simulate/camera/linearImage.js'
import { targetPose } from '../../src/simulate/camera/targetPose.js'
import { targetTruth, type TargetTruth } from '../../src/simulate/camera/targetTruth.js'
import { takeStill } from '../../src/simulate/camera/virtualCamera.js'
import { put } from '../journeys/smallWalk.js'

/** A simulated still as a recorder would name it, and what is true of the board in it. */
export interface RecordedStill {
  readonly file: string
  readonly light: string
  readonly distanceM: number
  readonly truth: TargetTruth
}

const STATION: CameraStation = {
  width: 1280,
  height: 720,
  lens: { p: 1, pixelsPerRadian: 2000, centreX: 640, centreY: 360 },
  mountHeightM: 2.2,
  tiltRad: 0.12,
}

const RECORDED_MARKS_M = [4, 5, 6, 8, 10, 12] as const
const RECORDED_LIGHTS = ['day', 'lamp'] as const

/** walk.yaml of the recorded walk, with a comment that must outlive the page. */
const WALK = `# Everything here is invented.
site: Salt store
date: 2026-03-14
simulated: true
camera:
  name: Store camera
  image: { width: 1280, height: 720 }   # px
judge: pixels
references:
  board: { width: 600 mm, height: 400 mm }
marks: [${RECORDED_MARKS_M.map((mark) => `${mark} m`).join(', ')}]
lights: [${RECORDED_LIGHTS.join(', ')}]
promises:
  - { grade: identify, at: 6 m, light: day }
  - { grade: identify, at: 12 m, light: lamp }
`

/** Makes a walk as it comes from a recorder: a board at six marks in two lights, files that are named by a counter, nothing assigned, nothing picked. Simulated. */
export async function makeRecordedWalk(dir: string): Promise<readonly RecordedStill[]> {
  await put(dir, 'walk.yaml', WALK)
  const random = seededRandom(5)
  const carried = carriedBoard()
  const stills: RecordedStill[] = []
  for (const [lightAt, light] of RECORDED_LIGHTS.entries())
    for (const [markAt, distanceM] of RECORDED_MARKS_M.entries()) {
      const pose = targetPose(STATION, {
        distanceM,
        heightM: 1.45,
        bearingRad: 0.02 * (markAt - 2),
        yawRad: 0.05,
        pitchRad: 0.04,
        rollRad: 0.02 - 0.01 * lightAt,
      })
      const { image } = takeStill(
        {
          station: STATION,
          background: evenImage({ left: 0, top: 0, width: 1280, height: 720 }, 1, 0.16),
          targets: [{ target: { ...carried, ...pose } }],
          blurSigmaPx: 0.8,
          exposure: { gain: lightAt === 0 ? 1 : 0.8, readNoiseDn: 1.5, shotNoiseDn: 1 },
        },
        random,
      )
      const file = `stills/export-${String(stills.length + 1).padStart(4, '0')}.jpg`
      await put(dir, file, await encodeJpeg(image, 92))
      const truth = targetTruth(STATION, pose, carried.widthM, carried.heightM)
      stills.push({ file, light, distanceM, truth })
    }
  return stills
}
