import { fitChart } from '../../../src/chart/fit/fitChart.js'
import { FRAME, moduleM } from '../../../src/chart/printed/chartGeometry.js'
import { CHART_PAPERS } from '../../../src/chart/printed/chartPapers.js'
import { boxTo, jacobianAt } from '../../../src/math/homography.js'
import type { Quad } from '../../../src/math/point.js'
import { seededRandom } from '../../../src/math/random.js'
import { expectNear } from '../../nearly.js'
import { DARK, DAY, SOFT, takeChartStill } from '../../support/chartStill.js'
import { describe, expect, it } from 'vitest'

describe('the fit of the whole chart', () => {
  // Bias allowed: the promise of this project (0.1 % from 3 px a module by day, 0.5 % at 2), plus three standard errors of the mean in the dark.
  const cases = [
    [DAY, 3, 0.001, 0.7],
    [DAY, 2, 0.005, 0.7],
    [SOFT, 3, 0.002, 1.5],
    [DARK, 4, 0.006, 1],
  ] as const
  for (const [condition, p, bias, blur] of cases)
    it(`measures density without bias, ${condition.name} at ${p} px a module, and knows its own scatter`, async () => {
      const random = seededRandom(11 * p)
      const errors: number[] = []
      const z: number[] = []
      let blurSum = 0
      const stills = 12
      for (let n = 0; n < stills; n += 1) {
        const paper = CHART_PAPERS[n % CHART_PAPERS.length]!
        const still = await takeChartStill(
          {
            paper,
            pixelsPerModule: p,
            wide: false,
            yawDeg: 60 * random.uniform() - 30,
            pitchDeg: 16 * random.uniform() - 8,
            rollDeg: 30 * random.uniform() - 15,
            width: 200,
            height: 160,
          },
          condition,
          random,
        )
        const start = still.truth.corners.map(([x, y]) => [
          x + 0.2 * p * (random.uniform() - 0.5),
          y + 0.2 * p * (random.uniform() - 0.5),
        ]) as unknown as Quad
        const fit = fitChart(still.image, boxTo(FRAME, start), { face: paper.face })
        expect(fit.ok).toBe(true)
        if (!fit.ok) continue
        const { alongX, alongY } = jacobianAt(fit.value.map, 7, 5)
        errors.push(Math.hypot(...alongX) / moduleM(paper) / still.truth.horizontalPxPerM - 1)
        errors.push(Math.hypot(...alongY) / moduleM(paper) / still.truth.verticalPxPerM - 1)
        still.truth.corners.forEach((corner, k) => {
          for (const axis of [0, 1] as const)
            z.push(
              (fit.value.corners[k]![axis] - corner[axis]) /
                Math.sqrt(fit.value.covariancePx2[2 * k + axis]![2 * k + axis]!),
            )
        })
        blurSum += fit.value.blurSigmaPx
      }
      const mean = errors.reduce((sum, e) => sum + e, 0) / errors.length
      const scatter = Math.sqrt(errors.reduce((sum, e) => sum + (e - mean) ** 2, 0) / (errors.length - 1))
      const spread = Math.sqrt(z.reduce((sum, e) => sum + e * e, 0) / z.length)
      console.log(
        `${condition.name} p=${p}: bias ${(100 * mean).toFixed(3)} %, scatter ${(100 * scatter).toFixed(3)} %, ` +
          `corner errors ${spread.toFixed(2)} of their stated deviation, blur ${(blurSum / stills).toFixed(3)} px`,
      )
      expectNear(mean, 0, { abs: bias })
      expect(spread).toBeGreaterThan(0.6)
      expect(spread).toBeLessThan(1.5)
      expectNear(blurSum / stills, blur, { rel: 0.05 }, 'the blur the camera had')
    })
})
