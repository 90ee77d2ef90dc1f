import { chartPaper } from '../../chart/printed/chartPapers.js'
import type { Random } from '../../math/random.js'
import type { CameraStation } from '../camera/cameraStation.js'
import type { DemoLight, Irradiance } from '../yard/demoLight.js'
import { FIGURE_EXTENT, figureSurface } from '../walker/demoFigure.js'
import type { Grip } from '../walker/demoGarments.js'
import { carriedChart } from '../walker/carriedChart.js'
import {
  carriedBoard,
  carriedPlate,
  PLATE_BY_DAY,
  PLATE_UNDER_INFRARED,
  type CarriedReference,
} from '../walker/demoReferences.js'
import type { DemoStill } from './demoScenario.js'
import { figureShadow } from '../walker/figureShadow.js'
import type { TargetLight } from '../camera/paintTarget.js'
import type { PlanarTarget } from '../camera/planarTarget.js'
import { poseNormal, targetPose } from '../camera/targetPose.js'
import type { WorldVector } from '../camera/worldVector.js'

/** What stands in front of the yard in one still: targets farthest first, the reference among them, and the light that falls on it. */
export interface DemoScene {
  readonly targets: readonly {
    readonly target: PlanarTarget
    readonly perPixel: number
    readonly light: TargetLight
  }[]
  readonly carried: CarriedReference
  readonly pose: { readonly centre: WorldVector; readonly right: WorldVector; readonly down: WorldVector }
  /** Light on a white surface held like the reference, 1 = white at gain 1. */
  readonly referenceLight: number
}

/** Height of the reference's middle over the ground and where the hands hold it, metres. */
const HOLD: Readonly<Record<DemoStill['reference'], { heightM: number; grip: Grip }>> = {
  board: { heightM: 1.1, grip: { handsOutM: 0.412, handsHeightM: 1.02 } },
  chart: { heightM: 1.15, grip: { handsOutM: 0.31, handsHeightM: 1.1 } },
  plate: { heightM: 1.2, grip: { handsOutM: 0.29, handsHeightM: 1.19 } },
}
/** The holder stands this far behind what they hold. */
const BEHIND_M = 0.16
const DEGREE = Math.PI / 180

/** Somebody at a distance holding a reference, as steadily as people do: a few degrees off square, the top leaned back a little. */
export function demoScene(
  station: CameraStation,
  light: DemoLight,
  still: DemoStill,
  random: Random,
): DemoScene {
  const { heightM, grip } = HOLD[still.reference]
  const besideM = 0.15 + 0.25 * random.uniform()
  const pose = targetPose(station, {
    distanceM: still.trueM,
    heightM,
    bearingRad: Math.atan(besideM / still.trueM),
    yawRad: 3 * DEGREE * random.normal(),
    pitchRad: (4 + 1.5 * random.normal()) * DEGREE,
    rollRad: 1.6 * DEGREE * random.normal(),
  })
  const infrared = light.name === 'infrared'
  const carried = carriedIn(still, infrared)
  const [nx, ny, nz] = poseNormal(pose)
  const fall: Irradiance = { red: 0, green: 0, blue: 0 }
  light.fallsOn(pose.centre, { nx, ny, nz, red: 0, green: 0, blue: 0 }, 0, fall)
  const onIt: TargetLight = [fall.red, fall.green, fall.blue]
  const heading = Math.atan2(pose.centre[0], pose.centre[1])
  const groundM = Math.hypot(pose.centre[0], pose.centre[1]) + BEHIND_M
  const feet: WorldVector = [groundM * Math.sin(heading), groundM * Math.cos(heading), 0]
  const upright = {
    centre: [feet[0], feet[1], FIGURE_EXTENT.halfHeightM] as const,
    right: [Math.cos(heading), -Math.sin(heading), 0] as const,
    down: [0, 0, -1] as const,
    ...FIGURE_EXTENT,
  }
  const part = (name: 'body' | 'hands'): PlanarTarget => ({
    ...upright,
    surface: figureSurface({ part: name, grip, infrared }),
  })
  const fine = still.trueM > 8 ? 5 : 3
  return {
    targets: [
      ...figureShadow(light, feet).map((target) => ({ target, perPixel: 1, light: 0 })),
      { target: part('body'), perPixel: still.trueM > 8 ? 2 : 1, light: onIt },
      {
        target: {
          ...pose,
          halfWidthM: carried.halfWidthM,
          halfHeightM: carried.halfHeightM,
          surface: carried.surface,
        },
        perPixel: fine,
        light: onIt,
      },
      { target: part('hands'), perPixel: still.trueM > 8 ? 2 : 1, light: onIt },
    ],
    carried,
    pose,
    referenceLight: fall.green,
  }
}

function carriedIn({ reference }: DemoStill, infrared: boolean): CarriedReference {
  if (reference === 'board') return carriedBoard()
  if (reference === 'chart') return carriedChart(chartPaper('A2')!)
  return carriedPlate(infrared ? PLATE_UNDER_INFRARED : PLATE_BY_DAY)
}
