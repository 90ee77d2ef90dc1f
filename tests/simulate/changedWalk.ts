import { createHash } from 'node:crypto'
import { mkdir, writeFile } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { seededRandom } from '../../src/math/random.js'
import type { CameraStation } from '../../src/simulate/camera/cameraStation.js'
import { demoExposure } from '../../src/simulate/demo/takeDemoStill.js'
import type { DemoLightName } from '../../src/simulate/yard/demoLight.js'
import { demoLight } from '../../src/simulate/demo/writeDemoLight.js'
import { demoScene } from '../../src/simulate/demo/demoScene.js'
import { demoStation } from '../../src/simulate/demo/demoStation.js'
import { encodeJpeg } from '../../src/simulate/camera/encodeJpeg.js'
import { evenImage } from '../../src/simulate/camera/linearImage.js'
import { simulateClicks } from '../../src/simulate/camera/simulateClicks.js'
import { targetTruth } from '../../src/simulate/camera/targetTruth.js'
import { renderBackground } from '../../src/simulate/yard/renderBackground.js'
import { takeStill } from '../../src/simulate/camera/virtualCamera.js'

/** What happened to the demonstration's camera before a walk; nothing where left out. */
export interface CameraChange {
  /** Tilted down by so much more, degrees: a knock. */
  readonly lowerDeg?: number
  /** Turned to the right by so much, degrees. */
  readonly rightDeg?: number
  /** Pixels of a radian times this: a zoom. */
  readonly zoom?: number
  /** Blur of the optics times this: a focus that drifted. */
  readonly blur?: number
  /** Share of its infrared light that is left, the camera's gain being at its end already. */
  readonly infrared?: number
}

/** How large a walk is rendered. */
export interface ChangedWalkSize {
  /** The demonstration's export size is divided by this. */
  readonly divideBy: number
  readonly marksM: readonly number[]
  /** Whether the demonstration's yard stands behind, and not even ground. */
  readonly yard?: boolean
}

const SMALL_SIZE: ChangedWalkSize = { divideBy: 3, marksM: [3, 4.5, 6] }
const LIGHTS: readonly DemoLightName[] = ['day', 'infrared']
const BLUR_PX = { day: 0.75, infrared: 0.85, lamp: 0.8 }

/**
 * Writes a walk of the demonstration's camera and its board by day and under infrared, on even ground, with the corners a hand clicked. `seed` is the day: who
 * carries how, the noise and the clicks. Simulated.
 */
export async function writeChangedWalk(
  dir: string,
  seed: number,
  change: CameraChange = {},
  { divideBy, marksM, yard = false }: ChangedWalkSize = SMALL_SIZE,
): Promise<void> {
  const knock = { rightDeg: change.rightDeg ?? 0, lowerDeg: change.lowerDeg ?? 0 }
  const still = demoStation(divideBy, knock)
  const station: CameraStation = {
    ...still,
    lens: { ...still.lens, pixelsPerRadian: still.lens.pixelsPerRadian * (change.zoom ?? 1) },
  }
  const picks: Record<string, unknown> = {}
  for (const [index, name] of LIGHTS.entries()) {
    const light = demoLight(name)
    const backdrop = yard ? renderBackground(station, light) : null
    for (const markM of marksM) {
      const random = seededRandom(seed * 1000 + index * 100 + markM * 2)
      const trueM = markM + 0.05 * (2 * random.uniform() - 1)
      const asked = {
        light: name,
        reference: 'board',
        tapedM: markM,
        trueM,
        blownUp: 1,
        knock,
        role: null,
      } as const
      const { targets, pose, carried, referenceLight } = demoScene(station, light, asked, random)
      const lit = name === 'infrared' ? (change.infrared ?? 1) : 1
      const { width, height } = station
      const { image } = takeStill(
        {
          station,
          background: backdrop ?? evenImage({ left: 0, top: 0, width, height }, light.channels, 0.02 * lit),
          targets: targets.map((each) => ({
            ...each,
            light:
              typeof each.light === 'number'
                ? each.light * lit
                : [each.light[0] * lit, each.light[1] * lit, each.light[2] * lit],
          })),
          blurSigmaPx: BLUR_PX[name] * (change.blur ?? 1),
          exposure: demoExposure(asked, referenceLight),
        },
        random,
      )
      const bytes = await encodeJpeg(image, 92)
      const file = `stills/${name}/${markM}m.jpg`
      await put(dir, file, bytes)
      const truth = targetTruth(station, pose, carried.widthM, carried.heightM)
      picks[file] = {
        sha256: createHash('sha256').update(bytes).digest('hex'),
        corners: simulateClicks(truth.corners, { sigmaPx: 0.5, outwardPx: 0.15 }, random),
      }
    }
  }
  await put(dir, 'picks.json', JSON.stringify({ format: 'proofwalk-picks/1', stills: picks }, null, 2))
  await put(dir, 'walk.yaml', walkText(station, { divideBy, marksM, yard }, seed))
}

function walkText(
  { width, height }: CameraStation,
  { marksM, yard = false }: ChangedWalkSize,
  seed: number,
): string {
  return `site: North slipway
date: ${2025 + seed}-03-14
simulated: true
camera: { name: Slipway camera, id: C-07, image: { width: ${width}, height: ${height} }, mountHeight: 2.6 m, tilt: 12${yard ? ', fieldOfView: { horizontal: 100, vertical: 56.3 }' : ''} }
references:
  board: { width: 600 mm, height: 400 mm, tolerance: 1 mm, carriedAt: 1.1 m }
distance: { from: camera, tolerance: 0.05 m }
marks: [${marksM.map((mark) => `${mark} m`).join(', ')}]
lights: [day, infrared]
promises:
  - { grade: recognise, at: ${marksM.at(-2)!} m, light: day }
  - { grade: recognise, at: ${marksM.at(-2)!} m, light: infrared }
`
}

async function put(dir: string, file: string, bytes: string | Uint8Array): Promise<void> {
  await mkdir(dirname(join(dir, file)), { recursive: true })
  await writeFile(join(dir, file), bytes)
}
