import { FRAME } from '../../../src/chart/printed/chartGeometry.js'
import { CHART_PAPERS } from '../../../src/chart/printed/chartPapers.js'
import { boxTo } from '../../../src/math/homography.js'
import type { Quad } from '../../../src/math/point.js'
import { seededRandom } from '../../../src/math/random.js'
import { measureChart, type MeasuredChart } from '../../../src/measure/chart/measureChart.js'
import { frequencyAtModulation } from '../../../src/measure/edge/gaussianPixelMtf.js'
import { expectNear } from '../../nearly.js'
import { DARK, DAY, takeChartStill, type ChartCondition } from '../../support/chartStill.js'
import {
  GAMMA_18,
  GAMMA_24,
  S_CURVE,
  SRGB,
  STRONG_S_CURVE,
  type ToneCurve,
} from '../../support/toneCurves.js'
import { describe, expect, it } from 'vitest'

interface Taken {
  readonly tone?: ToneCurve
  readonly sharpen?: { readonly sigmaPx: number; readonly amount: number }
  /** Turns the still's code values into others. */
  readonly change?: (code: number) => number
}

async function measured(
  condition: ChartCondition,
  pixelsPerModule: number,
  seed: number,
  { tone = SRGB, sharpen, change = (code) => code }: Taken = {},
): Promise<MeasuredChart> {
  const random = seededRandom(seed)
  const paper = CHART_PAPERS[seed % CHART_PAPERS.length]!
  const still = await takeChartStill(
    {
      paper,
      pixelsPerModule,
      wide: false,
      yawDeg: 30 * random.uniform() - 15,
      pitchDeg: 6,
      rollDeg: 20 * random.uniform() - 10,
      width: 60 + 16 * pixelsPerModule,
      height: 50 + 12 * pixelsPerModule,
    },
    condition,
    random,
    sharpen === undefined ? {} : { sharpen },
  )
  const start = still.truth.corners.map(([x, y]) => [x + 0.2, y - 0.2]) as unknown as Quad
  const data = still.image.data.map((code) => change(tone.curve(code)))
  const chart = measureChart(
    { ...still.image, data },
    { map: boxTo(FRAME, start), face: paper.face, faceSure: true },
    paper,
  )
  if (!chart.ok) throw new Error(chart.message)
  return chart.value
}

const truth50 = ({ blurSigmaPx }: ChartCondition): number => frequencyAtModulation(0.5, blurSigmaPx)

describe("the chart's sharpness", () => {
  it('has MTF50 within 3 % by day from 5 px a module, and MTF10 within 5 % from 10', async () => {
    for (const [p, seed] of [
      [5, 3],
      [5, 4],
      [12, 5],
    ] as const) {
      const { sharpness, problems } = await measured(DAY, p, seed)
      expect(problems).toEqual([])
      for (const way of [sharpness!.horizontal, sharpness!.vertical]) {
        expectNear(way.mtf50, truth50(DAY), { rel: 0.03 }, 'the camera and a square pixel')
        if (p >= 10) expectNear(way.mtf10, frequencyAtModulation(0.1, DAY.blurSigmaPx), { rel: 0.05 })
        expect(way.mtf50U).toBeLessThan(0.1 * way.mtf50)
      }
    }
  })

  it('holds through gamma 1.8, gamma 2.4 and an S-curve by the tone strip', async () => {
    for (const tone of [GAMMA_18, GAMMA_24, S_CURVE, STRONG_S_CURVE]) {
      const { sharpness, tones } = await measured(DAY, 10, 6, { tone })
      expect(tones, tone.name).not.toBeNull()
      for (const way of [sharpness!.horizontal, sharpness!.vertical])
        expectNear(way.mtf50, truth50(DAY), { rel: 0.03 }, tone.name)
    }
  })

  it('tells a sharpened picture and counts the blur beneath, not the lens it would pass for', async () => {
    for (const [p, sharpen] of [
      [5, { sigmaPx: 1, amount: 1 }],
      [10, { sigmaPx: 2, amount: 1 }],
    ] as const) {
      const { sharpness, problems } = await measured(DAY, p, 7, { sharpen })
      expect(problems.map(({ code }) => code)).toEqual(['lifted'])
      expect(sharpness!.lifted!.mtf50 ?? Infinity).toBeGreaterThan(1.3 * truth50(DAY))
      for (const way of [sharpness!.horizontal, sharpness!.vertical])
        expect(Math.abs(way.mtf50 - truth50(DAY))).toBeLessThan(way.mtf50U)
    }
  })

  it('is within 10 % in the dark, or refused', async () => {
    let told = 0
    for (const seed of [8, 9, 10]) {
      const { sharpness, problems } = await measured(DARK, 9, seed)
      if (sharpness === null) expect(problems.map(({ code }) => code)).toEqual(['chart-too-noisy'])
      else {
        told += 1
        for (const way of [sharpness.horizontal, sharpness.vertical])
          expectNear(way.mtf50, truth50(DARK), { rel: 0.1 })
      }
    }
    expect(told, 'a promise that is always refused is none').toBeGreaterThan(0)
  })

  it('is not told from paper at white or ink at black, each by its own name', async () => {
    const over = await measured(DAY, 6, 11, { change: (code) => Math.min(255, 1.4 * code) })
    expect(over.sharpness).toBeNull()
    expect(over.problems.map(({ code }) => code)).toEqual(['chart-washed-out'])
    const under = await measured(DAY, 6, 11, { change: (code) => Math.max(0, 1.2 * code - 80) })
    expect(under.sharpness).toBeNull()
    expect(under.problems.map(({ code }) => code)).toEqual(['chart-ink-clipped'])
  })
})

describe('the exponent of the camera’s curve, as the strip tells it', () => {
  const byExponent = (ln: number): ToneCurve => ({
    name: `exponent e^${ln}`,
    curve: (code) => 255 * (code / 255) ** Math.exp(ln),
  })

  it('covers the true one in 19 of 20, to 0.04 at most', async () => {
    const errors: number[] = []
    for (let seed = 0; seed < 20; seed += 1) {
      const ln = -0.15 + (0.3 * seed) / 19
      const { exponent } = await measured(DAY, 12, seed, { tone: byExponent(ln) })
      expect(exponent!.u, `seed ${seed}`).toBeLessThan(0.04)
      errors.push((exponent!.ln - ln) / (2 * exponent!.u))
    }
    console.log(`errors over U: ${errors.map((error) => error.toFixed(2)).join(' ')}`)
    expect(errors.filter((error) => Math.abs(error) <= 1).length).toBeGreaterThanOrEqual(19)
  })

  it('is known worse where the curve is no power', async () => {
    const { exponent } = await measured(DAY, 12, 3, { tone: STRONG_S_CURVE })
    const { exponent: plain } = await measured(DAY, 12, 3)
    expect(exponent!.u).toBeGreaterThan(1.5 * plain!.u)
  })
})
