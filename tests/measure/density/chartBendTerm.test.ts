import { describe, expect, it } from 'vitest'
import {
  chartAreas,
  chartFace,
  FRAME_HEIGHT_MODULES,
  FRAME_WIDTH_MODULES,
} from '../../../src/chart/printed/chartGeometry.js'
import { fitHomography } from '../../../src/math/fitHomography.js'
import { jacobianAt } from '../../../src/math/homography.js'
import type { Point } from '../../../src/math/point.js'
import { chartBendRel } from '../../../src/measure/density/bendUncertainty.js'
import { projectToImage, type CameraStation } from '../../../src/simulate/camera/cameraStation.js'
import { targetPose } from '../../../src/simulate/camera/targetPose.js'
import { targetTruth } from '../../../src/simulate/camera/targetTruth.js'
import { along } from '../../../src/simulate/camera/worldVector.js'

const MODULE_M = 0.042
const [WIDTH_M, HEIGHT_M] = [FRAME_WIDTH_MODULES * MODULE_M, FRAME_HEIGHT_MODULES * MODULE_M]

/** Points along all edges of ink, metres from the chart's middle: what a fit of the whole chart hangs on. */
const EDGES: readonly Point[] = [0, 7].flatMap((face) =>
  chartAreas(chartFace(face))
    .filter(({ weight }) => Math.abs(weight) === 1)
    .flatMap(({ corners }) =>
      corners.flatMap((a, side) => {
        const b = corners[(side + 1) % 4]!
        const steps = Math.round(4 * Math.hypot(b[0] - a[0], b[1] - a[1]))
        return Array.from({ length: steps }, (_, k): Point => {
          const share = (k + 0.5) / steps
          return [
            (a[0] + share * (b[0] - a[0]) - 7) * MODULE_M,
            (a[1] + share * (b[1] - a[1]) - 5) * MODULE_M,
          ]
        })
      }),
    ),
)

/** Greatest relative error of the density at the chart's middle over some turns, a plane being fitted to the bent edges. */
function worstError(bearingDeg: number, p: number, halfAngleRad: number): number {
  const lens = { p, pixelsPerRadian: 1000, centreX: 1000, centreY: 750 }
  const station: CameraStation = { width: 2000, height: 1500, lens, mountHeightM: 50, tiltRad: 0 }
  const distanceM = Math.hypot(WIDTH_M, HEIGHT_M) / 2 / halfAngleRad
  const rad = Math.PI / 180
  let worst = 0
  for (const yawDeg of [0, 30, -30]) {
    const pose = targetPose(station, {
      distanceM,
      heightM: 50,
      bearingRad: bearingDeg * rad,
      yawRad: yawDeg * rad,
    })
    const truth = targetTruth(station, pose, WIDTH_M, HEIGHT_M)
    const seen = EDGES.map(([u, v]) =>
      projectToImage(station, along(along(pose.centre, pose.right, u), pose.down, v))!,
    )
    const fit = fitHomography(EDGES, seen)
    if (!fit.ok) throw new Error(fit.message)
    const { alongX, alongY } = jacobianAt(fit.value.homography, 0, 0)!
    worst = Math.max(
      worst,
      Math.abs(Math.hypot(...alongX) / truth.horizontalPxPerM - 1),
      Math.abs(Math.hypot(...alongY) / truth.verticalPxPerM - 1),
    )
  }
  return worst
}

describe("the term for a lens' bend on a found chart", () => {
  for (const bearingDeg of [0, 30, 60])
    it(`holds what a plane fitted to the bent edges errs, ${bearingDeg} degrees off the axis, and is not twice that`, () => {
      // The picture's diagonal spans 180 degrees of 2F sin(t/2).
      const outward = Math.sin((bearingDeg * Math.PI) / 360) / Math.sin(Math.PI / 4)
      const term = Math.sqrt(3) * chartBendRel(0.2, outward)
      const worst = worstError(bearingDeg, -0.5, 0.2)
      console.log(
        `${bearingDeg} degrees: errs ${(100 * worst).toFixed(2)} %, the term is ${(100 * term).toFixed(2)} %`,
      )
      expect(worst).toBeLessThan(1.02 * term)
      expect(term).toBeLessThan(2 * worst)
      for (const p of [1, 0.5, 0]) expect(worstError(bearingDeg, p, 0.2)).toBeLessThan(1.02 * term)
    })
})
