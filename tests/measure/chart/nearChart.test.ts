import {
  chartAreas,
  chartFace,
  FRAME,
  FRAME_HEIGHT_MODULES,
  FRAME_WIDTH_MODULES,
  inkAt,
  moduleM,
} from '../../../src/chart/printed/chartGeometry.js'
import { chartPaper } from '../../../src/chart/printed/chartPapers.js'
import { boxTo } from '../../../src/math/homography.js'
import { seededRandom } from '../../../src/math/random.js'
import { measureDensity } from '../../../src/measure/density/density.js'
import { chartReference } from '../../../src/measure/reference/chartReference.js'
import type { CameraStation } from '../../../src/simulate/camera/cameraStation.js'
import { exposeImage } from '../../../src/simulate/camera/exposeImage.js'
import { evenImage } from '../../../src/simulate/camera/linearImage.js'
import { paintTarget } from '../../../src/simulate/camera/paintTarget.js'
import { targetPose } from '../../../src/simulate/camera/targetPose.js'
import { targetTruth } from '../../../src/simulate/camera/targetTruth.js'
import { measureFoundChart } from '../../../src/walk/measure/measureFoundChart.js'
import { expectNear } from '../../nearly.js'
import { chartTarget, throughJpeg } from '../../support/chartStill.js'
import { describe, expect, it } from 'vitest'

const PAPER = chartPaper('A2')!
const MODULE_M = moduleM(PAPER)
const AREAS = chartAreas(chartFace(PAPER.face))

/** Errors of both densities, and what is told, of a chart in the middle of a still with nothing over it. A lens of `lensP` has the chart span some 22 degrees. */
async function seenNear(pixelsPerModule: number, lensP: number) {
  const random = seededRandom(pixelsPerModule)
  const [width, height] = [20 * pixelsPerModule, 15 * pixelsPerModule]
  const pixelsPerRadian = 35 * pixelsPerModule
  const lens = { p: lensP, pixelsPerRadian, centreX: width / 2, centreY: height / 2 }
  const station: CameraStation = { width, height, lens, mountHeightM: 1.5, tiltRad: 0 }
  const distanceM = (pixelsPerRadian * MODULE_M) / pixelsPerModule
  const turns = { yawRad: 0.1, pitchRad: -0.05, rollRad: 0.08 }
  const pose = targetPose(station, { distanceM, heightM: 1.5, bearingRad: 0, ...turns })
  const light = evenImage({ left: 0, top: 0, width, height }, 1, 0.2)
  const reflectance = (uM: number, vM: number) => 1 - inkAt(AREAS, 7 + uM / MODULE_M, 5 + vM / MODULE_M)
  paintTarget(light, station, chartTarget(PAPER, pose, reflectance), { perPixel: 2, blurSigmaPx: 0.9 })
  const exposed = exposeImage(light, { gain: 0.75, readNoiseDn: 2, shotNoiseDn: 0 }, random)
  const image = await throughJpeg(exposed, 88)
  const truth = targetTruth(station, pose, FRAME_WIDTH_MODULES * MODULE_M, FRAME_HEIGHT_MODULES * MODULE_M)
  const found = {
    map: boxTo(FRAME, truth.corners),
    corners: truth.corners,
    pixelsPerModule,
    face: PAPER.face,
    faceSure: true,
    correlation: 1,
    kept: 1,
    sigmaModules: 0,
    worstWindow: 1,
    contrastDn: 150,
  }
  const still = { width, height, lumaRegion: () => ({ left: 0, top: 0, ...image }) }
  const chart = measureFoundChart(still, found, PAPER)
  if (!chart.ok) throw new Error(chart.message)
  const reference = { ...chartReference('chart', PAPER, null), widthToleranceM: 0, heightToleranceM: 0 }
  const measured = measureDensity(reference, chart.value.pick, {
    stillWidth: width,
    stillHeight: height,
    distanceM: truth.distanceM,
  })
  if (!measured.ok) throw new Error(measured.message)
  const { horizontal, vertical } = measured.value.density
  return {
    errors: [100 * (horizontal! / truth.horizontalPxPerM - 1), 100 * (vertical! / truth.verticalPxPerM - 1)],
    codes: chart.value.problems.map(({ code }) => code).filter((code) => code.startsWith('chart-')),
  }
}

describe('a chart so near that few of its pixels are looked at', () => {
  // Thinned pixel by pixel, no two lay side by side: noise was taken for none, and what the fit leaves for something that lies over the chart.
  for (const lensP of [1, -0.5])
    it(`has nothing over it through a lens of p = ${lensP}, and its density within 0.05 %`, async () => {
      const { errors, codes } = await seenNear(57, lensP)
      console.log(`p ${lensP}: ${errors.join(' ')} %`)
      expect(codes).toEqual([])
      for (const error of errors) expectNear(error, 0, { abs: 0.05 })
    })
})
