import { writeFile } from 'node:fs/promises'
import { builtInGradings } from '../../src/grade/gradings/builtInGradings.js'
import { gradeStill } from '../../src/grade/gradings/gradeStill.js'
import type { JudgedStill } from '../../src/grade/judgement.js'
import type { Random } from '../../src/math/random.js'
import { HAND_SIGMA_PX, type Pick } from '../../src/measure/reference/pick.js'
import { isChart } from '../../src/measure/reference/reference.js'
import { snapCorners } from '../../src/measure/snap/snapCorners.js'
import type { CameraStation } from '../../src/simulate/camera/cameraStation.js'
import { encodeJpeg } from '../../src/simulate/camera/encodeJpeg.js'
import { evenImage } from '../../src/simulate/camera/linearImage.js'
import type { PlanarTarget } from '../../src/simulate/camera/planarTarget.js'
import { simulateClicks } from '../../src/simulate/camera/simulateClicks.js'
import { targetPose } from '../../src/simulate/camera/targetPose.js'
import { takeStill } from '../../src/simulate/camera/virtualCamera.js'
import { carriedChart } from '../../src/simulate/walker/carriedChart.js'
import { carriedBoard, carriedPlate, PLATE_BY_DAY } from '../../src/simulate/walker/demoReferences.js'
import { chartPaper } from '../../src/chart/printed/chartPapers.js'
import { openStill } from '../../src/still/openStill.js'
import { runStillTask } from '../../src/walk/measure/runStillTask.js'
import { gradingNeeds } from '../../src/walk/stills/planStills.js'
import type { StillTask } from '../../src/walk/stills/stillTask.js'
import { judgedStill, STILL, type DrawnStill } from './riskWalk.js'

const { grading: GRADING } = builtInGradings[0]!
const LIGHT = { background: 0.12, gain: 1.1, noiseDn: 3, jpegQuality: 88 }
/** How a hand clicks before it is snapped. */
const HABIT = { sigmaPx: HAND_SIGMA_PX, outwardPx: 0.2 }

/** What a walk's stills share: a blur, and a tone curve off sRGB's as `SNAP_BIAS_PX` is sized for, the logarithm of the exponent by 0.15, one standard deviation. */
export const drawCamera = (random: Random) => ({
  blurSigmaPx: 0.6 + 0.6 * random.uniform(),
  exponent: Math.exp(0.15 * random.normal()),
})

/**
 * Paints a drawn still over an even background, writes it to `file` as JPEG and measures the file as a walk's stills are: the corners clicked as drawn, snapped from other
 * clicks, or the chart found. `random` is the pixels' own. The reason where it is not measured.
 */
export async function paintedStill(
  drawn: DrawnStill,
  { blurSigmaPx, exponent }: ReturnType<typeof drawCamera>,
  file: string,
  random: Random,
): Promise<JudgedStill | string> {
  const { reference, markM, method } = drawn
  const { station, target } = paintedScene(drawn, random)
  const { image } = takeStill(
    {
      station,
      background: evenImage({ left: 0, top: 0, ...STILL }, 1, LIGHT.background),
      targets: [{ target }],
      blurSigmaPx,
      exposure: { gain: LIGHT.gain, readNoiseDn: 0, shotNoiseDn: 0 },
    },
    random,
  )
  const data = image.data.map((code) => 255 * (code / 255) ** exponent + LIGHT.noiseDn * random.normal())
  await writeFile(file, await encodeJpeg({ ...image, data }, LIGHT.jpegQuality))
  const clicked: Pick = { kind: 'corners', corners: drawn.corners, sigmaPx: HAND_SIGMA_PX, method: 'hand' }
  const pick = method === 'snapped' ? await snapped(drawn, file, random) : clicked
  if (typeof pick === 'string') return pick
  const subject: StillTask['subject'] = isChart(reference)
    ? { kind: 'chart', charts: [reference], elseMend: null }
    : { kind: 'picked', reference, pick, pickedSha256: null }
  const result = await runStillTask({
    path: file,
    file,
    subject,
    distanceM: markM,
    lens: null,
    promisedSize: null,
    ...gradingNeeds(GRADING),
  })
  if (!result.ok) return result.code
  const { measurement } = result
  return judgedStill(drawn, {
    measurement,
    usable: gradeStill(measurement, GRADING, 'detail', drawn.light).usable,
  })
}

/** The camera, level with the middle of the reference, and the reference of its drawn size. */
function paintedScene(
  { reference, scene }: DrawnStill,
  random: Random,
): { station: CameraStation; target: PlanarTarget } {
  const { p, pixelsPerRadian, distanceM } = scene
  const station: CameraStation = {
    ...STILL,
    lens: { p, pixelsPerRadian, centreX: STILL.width / 2, centreY: STILL.height / 2 },
    mountHeightM: 1.5,
    tiltRad: 0,
  }
  const rad = Math.PI / 180
  const turned = { yawRad: scene.yawDeg! * rad, pitchRad: scene.pitchDeg! * rad }
  const plain = reference.marking === 'plain' ? carriedBoard() : carriedPlate(PLATE_BY_DAY)
  const carried = isChart(reference) ? carriedChart(chartPaper(reference.chart.paper)!) : plain
  // A chart's ink is looked up at two points a box and axis: those of a level edge, all alike, would shift it by up to 1/16 px.
  const within = (step: number): number => (isChart(reference) ? step * (random.uniform() - 0.5) : 0)
  const [wider, higher] = [scene.widthM / carried.widthM, scene.heightM / carried.heightM]
  return {
    station,
    target: {
      ...targetPose(station, { distanceM, heightM: station.mountHeightM, ...turned }),
      halfWidthM: carried.halfWidthM * wider,
      halfHeightM: carried.halfHeightM * higher,
      surface: (u, v, boxU, boxV, out) => {
        const [x, y] = [(u + within(boxU / 2)) / wider, (v + within(boxV / 2)) / higher]
        carried.surface(x, y, boxU / wider, boxV / higher, out)
      },
    },
  }
}

/** As the page keeps what was snapped. */
async function snapped(drawn: DrawnStill, file: string, random: Random): Promise<Pick | string> {
  const still = await openStill(file)
  if (!still.ok) return still.code
  const fit = await snapCorners(still.value, drawn.reference, simulateClicks(drawn.exact, HABIT, random))
  return fit.ok ? { kind: 'corners', method: 'snapped', ...fit.value } : fit.code
}
