import { fitChart } from '../../../src/chart/fit/fitChart.js'
import { chartAreas, chartFace, FRAME, inkAt, moduleM } from '../../../src/chart/printed/chartGeometry.js'
import { CHART_PAPERS } from '../../../src/chart/printed/chartPapers.js'
import { boxTo, jacobianAt } from '../../../src/math/homography.js'
import type { Quad } from '../../../src/math/point.js'
import { seededRandom } from '../../../src/math/random.js'
import { expectNear } from '../../nearly.js'
import { DAY, takeChartStill } from '../../support/chartStill.js'
import { describe, expect, it } from 'vitest'

const PAPER = CHART_PAPERS[0]!
const MODULE_M = moduleM(PAPER)
const AREAS = chartAreas(chartFace(PAPER.face))
/** How light what lies beyond the cut is, 0 ink to 1 paper. */
const GROUND = 0.35

/** Errors of both densities, %, of a chart whose right margin is cut off 0.1 module beyond the frame, and the sides left out. */
async function errorsOf(pixelsPerModule: number, lookAtMargin: boolean) {
  const still = await takeChartStill(
    {
      paper: PAPER,
      pixelsPerModule,
      wide: false,
      yawDeg: 8,
      pitchDeg: -4,
      rollDeg: 6,
      width: 60 + 20 * pixelsPerModule,
      height: 50 + 16 * pixelsPerModule,
    },
    DAY,
    seededRandom(5),
    {
      reflectance: (uM, vM) => {
        const [u, v] = [7 + uM / MODULE_M, 5 + vM / MODULE_M]
        return u > FRAME.right + 0.1 ? GROUND : 1 - inkAt(AREAS, u, v)
      },
    },
  )
  const start = still.truth.corners.map(([x, y]) => [x + 0.2, y - 0.2]) as unknown as Quad
  const fit = fitChart(still.image, boxTo(FRAME, start), {
    face: PAPER.face,
    unevenLight: lookAtMargin,
  })
  if (!fit.ok) throw new Error(fit.message)
  const { alongX, alongY } = jacobianAt(fit.value.map, 7, 5)
  const { horizontalPxPerM, verticalPxPerM } = still.truth
  return {
    errors: [
      100 * (Math.hypot(...alongX) / MODULE_M / horizontalPxPerM - 1),
      100 * (Math.hypot(...alongY) / MODULE_M / verticalPxPerM - 1),
    ],
    trimmed: fit.value.trimmed,
  }
}

describe('a chart whose margin was cut off beside the frame', () => {
  for (const p of [3, 6])
    it(`is measured by what is left of it, ${p} px a module`, async () => {
      const whole = await errorsOf(p, true)
      const blind = await errorsOf(p, false)
      console.log(
        `${p} px a module: ${whole.errors.join(' ')} %, taken for whole ${blind.errors.join(' ')} %`,
      )
      expect(whole.trimmed).toEqual([false, true, false, false])
      for (const error of whole.errors) expectNear(error, 0, { abs: 0.12 })
      expect(Math.abs(blind.errors[0]!), 'else the margin needs no look').toBeGreaterThan(0.15)
    })
})
