import { fitChart } from '../../../src/chart/fit/fitChart.js'
import { FRAME, moduleM } from '../../../src/chart/printed/chartGeometry.js'
import { CHART_PAPERS } from '../../../src/chart/printed/chartPapers.js'
import { boxTo, inverseHomography, jacobianAt, mapPoint } from '../../../src/math/homography.js'
import { seededRandom } from '../../../src/math/random.js'
import { codeFromLinear, linearFromCode } from '../../../src/math/srgb.js'
import { expectNear } from '../../nearly.js'
import { DAY, takeChartStill } from '../../support/chartStill.js'
import { describe, expect, it } from 'vitest'

/** The relative errors of both densities of a chart whose light is multiplied by `shade` (modules), null where something lies over it. */
async function seenUnder(shade: (u: number, v: number) => number | null) {
  const random = seededRandom(21)
  const paper = CHART_PAPERS[3]!
  const { image, truth } = await takeChartStill(
    { paper, pixelsPerModule: 6, wide: false, yawDeg: 10, pitchDeg: 3, rollDeg: 5, width: 160, height: 130 },
    DAY,
    random,
  )
  const map = boxTo(FRAME, truth.corners)
  const back = inverseHomography(map)!
  const data = image.data.map((code, at) => {
    const [u, v] = mapPoint(back, (at % image.width) + 0.5, Math.floor(at / image.width) + 0.5)
    const light = shade(u, v)
    return light === null ? 130 + 8 * random.normal() : codeFromLinear(linearFromCode(code) * light)
  })
  const fit = fitChart({ ...image, data }, map, { face: paper.face, unevenLight: true })
  if (!fit.ok) throw new Error(fit.message)
  const { alongX, alongY } = jacobianAt(fit.value.map, 7, 5)
  const errors = [
    Math.hypot(...alongX) / moduleM(paper) / truth.horizontalPxPerM - 1,
    Math.hypot(...alongY) / moduleM(paper) / truth.verticalPxPerM - 1,
  ]
  return { errors, uneven: fit.value.unevenLight, blurSigmaPx: fit.value.blurSigmaPx }
}

describe('the fit under uneven light', () => {
  // Before the light was read place by place, half a shadow at a quarter of the light moved densities by 0.7 % at this size.
  const cases = [
    ['even light', () => 1, 0.001, false],
    ['light that falls off to a third across the chart', (u: number) => 1 - (0.67 * u) / 14, 0.001, false],
    ['half a shadow at half the light', (u: number) => (u > 6 ? 0.5 : 1), 0.002, true],
    [
      'half a shadow aslant at a quarter of the light',
      (u: number, v: number) => (u + v > 10 ? 0.25 : 1),
      0.003,
      true,
    ],
    [
      "a lamp's spot",
      (u: number, v: number) => 0.4 + 0.6 * Math.exp(-((u - 3) ** 2 + (v - 3) ** 2) / 18),
      0.002,
      true,
    ],
    [
      'a hand over a corner',
      (u: number, v: number) => (Math.hypot(u - 1.2, v - 1.2) < 2 ? null : 1),
      0.001,
      false,
    ],
  ] as const
  for (const [name, shade, most, uneven] of cases)
    it(`measures density within ${100 * most} % under ${name}, and ${uneven ? 'tells it' : 'tells nothing'}`, async () => {
      const seen = await seenUnder(shade)
      console.log(`${name}: ${seen.errors.map((error) => (100 * error).toFixed(3)).join(' ')} %`)
      for (const error of seen.errors) expectNear(error, 0, { abs: most })
      expect(seen.uneven).toBe(uneven)
      expectNear(seen.blurSigmaPx, 0.7, { rel: 0.06 }, 'the blur the camera had')
    })
})
