import {
  FIELD,
  FRAME_HEIGHT_MODULES,
  FRAME_WIDTH_MODULES,
  moduleM,
} from '../../src/chart/printed/chartGeometry.js'
import type { ChartPaper } from '../../src/chart/printed/chartPapers.js'
import type { Random } from '../../src/math/random.js'
import type { CameraStation } from '../../src/simulate/camera/cameraStation.js'
import { encodeJpeg } from '../../src/simulate/camera/encodeJpeg.js'
import type { LinearImage } from '../../src/simulate/camera/linearImage.js'
import type { PlanarTarget, Surface } from '../../src/simulate/camera/planarTarget.js'
import { targetPose } from '../../src/simulate/camera/targetPose.js'
import { targetTruth, type TargetTruth } from '../../src/simulate/camera/targetTruth.js'
import { takeStill } from '../../src/simulate/camera/virtualCamera.js'
import { along, cross } from '../../src/simulate/camera/worldVector.js'
import { chartTarget, clutter } from './chartStill.js'

/** A patch that lies over the chart: where (modules of the field), its linear light, and a share of cover over a box there. */
export interface Patch {
  readonly light: number
  /** 0..1 about a point of the field; `blur` is the size of a fine sample. All in modules. */
  cover(x: number, y: number, blur: number): number
}

/** What is wrong with a chart in a still. Places in modules of the field. */
export interface Spoilt {
  /** Factor on the light that falls there. */
  readonly light?: (x: number, y: number) => number
  readonly patches?: readonly Patch[]
}

/** How the chart stands in the still. */
export interface CaseView {
  readonly paper: ChartPaper
  readonly pixelsPerModule: number
  /** Its middle, px from the picture's top left; at random within the picture where left out. */
  readonly centre?: readonly [number, number]
  readonly yawDeg: number
  readonly pitchDeg: number
  readonly rollDeg: number
  readonly blurSigmaPx?: number
  readonly noiseDn?: number
  readonly gain?: number
  readonly jpegQuality?: number
  readonly width?: number
  readonly height?: number
}

/** A still as a file, and what is true of the frame. */
export interface CaseStill {
  readonly bytes: Buffer
  readonly truth: TargetTruth
}

const PIXELS_PER_RADIAN = 1400

/** A still of a spoilt chart over clutter, as JPEG. */
export async function takeCase(view: CaseView, spoilt: Spoilt, random: Random): Promise<CaseStill> {
  const [width, height] = [view.width ?? 640, view.height ?? 480]
  const module = moduleM(view.paper)
  const reach = 8.8 * view.pixelsPerModule
  const free = (size: number): number =>
    size / 2 + Math.max(0, size / 2 - reach - 4) * (2 * random.uniform() - 1)
  const centre = view.centre ?? [free(width), free(height)]
  const station: CameraStation = {
    width,
    height,
    lens: { p: 1, pixelsPerRadian: PIXELS_PER_RADIAN, centreX: width / 2, centreY: height / 2 },
    mountHeightM: 2.6,
    tiltRad: 0,
  }
  const [offX, offY] = [centre[0] - width / 2, centre[1] - height / 2]
  const bearing = Math.atan(offX / PIXELS_PER_RADIAN)
  const depthM = (PIXELS_PER_RADIAN * module) / view.pixelsPerModule
  const downM = (offY / PIXELS_PER_RADIAN) * depthM
  const rad = Math.PI / 180
  const pose = targetPose(station, {
    distanceM: Math.hypot(depthM / Math.cos(bearing), downM),
    heightM: 2.6 - downM,
    bearingRad: bearing,
    yawRad: view.yawDeg * rad - bearing,
    pitchRad: view.pitchDeg * rad,
    rollRad: view.rollDeg * rad,
  })
  const chart = chartTarget(view.paper, pose)
  const lit =
    spoilt.light === undefined ? chart : { ...chart, surface: litBy(chart.surface, spoilt.light, module) }
  const background = coloured(clutter(width, height, random))
  const still = takeStill(
    {
      station,
      background,
      targets: [lit, ...(spoilt.patches ?? []).map((patch) => patchOver(chart, patch, module))].map(
        (target) => ({ target }),
      ),
      blurSigmaPx: view.blurSigmaPx ?? 0.7,
      exposure: { gain: view.gain ?? 0.75, readNoiseDn: view.noiseDn ?? 2, shotNoiseDn: 0 },
    },
    random,
  )
  return {
    bytes: await encodeJpeg(still.image, view.jpegQuality ?? 90),
    truth: targetTruth(station, pose, FRAME_WIDTH_MODULES * module, FRAME_HEIGHT_MODULES * module),
  }
}

const toField = (u: number, v: number, module: number): readonly [number, number] => [
  FIELD.width / 2 + u / module,
  FIELD.height / 2 + v / module,
]

function litBy(surface: Surface, light: (x: number, y: number) => number, module: number): Surface {
  return (u, v, w, h, out) => {
    surface(u, v, w, h, out)
    const factor = light(...toField(u, v, module))
    out.red *= factor
    out.green *= factor
    out.blue *= factor
  }
}

function patchOver(chart: PlanarTarget, patch: Patch, module: number): PlanarTarget {
  const towards = cross(chart.down, chart.right)
  return {
    ...chart,
    centre: along(chart.centre, towards, 0.2 * module),
    halfWidthM: 2 * chart.halfWidthM,
    halfHeightM: 2 * chart.halfHeightM,
    surface: (u, v, w, h, out) => {
      out.red = 1.1 * patch.light
      out.green = 0.95 * patch.light
      out.blue = 0.9 * patch.light
      out.coverage = patch.cover(...toField(u, v, module), (w + h) / 2 / module)
    },
  }
}

function coloured(grey: LinearImage): LinearImage {
  const data = new Float32Array(3 * grey.data.length)
  grey.data.forEach((value, at) => data.fill(value, 3 * at, 3 * at + 3))
  return { ...grey, channels: 3, data }
}
