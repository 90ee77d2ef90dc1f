// Bias and scatter of the chart's sharpness against pixels per module. Argument: stills per cell.
import { CHART_PAPERS } from '../src/chart/chartPapers.js'
import { findChart } from '../src/chart/findChart.js'
import { measureChart } from '../src/measure/measureChart.js'
import { frequencyAtModulation } from '../src/measure/gaussianPixelMtf.js'
import { seededRandom } from '../src/math/random.js'
import { DARK, DAY, SOFT, takeChartStill, type ChartCondition } from './chartStill.js'

const perCell = Number(process.argv[2] ?? 8)
const mean = (a: number[]): number => a.reduce((x, y) => x + y, 0) / a.length
const sd = (a: number[]): number => Math.sqrt(mean(a.map((x) => (x - mean(a)) ** 2)))
const gamma =
  (g: number) =>
  (code: number): number =>
    255 * (code / 255) ** g
const scurve = (code: number): number => {
  const v = code / 255
  return 255 * (v + 0.35 * v * (1 - v) * (2 * v - 1))
}
const cells: [ChartCondition, number, string, (code: number) => number][] = [
  [DAY, 5, 'sRGB', (c) => c],
  [DAY, 10, 'sRGB', (c) => c],
  [DAY, 20, 'sRGB', (c) => c],
  [SOFT, 5, 'sRGB', (c) => c],
  [SOFT, 10, 'sRGB', (c) => c],
  [DARK, 5, 'sRGB', (c) => c],
  [DARK, 10, 'sRGB', (c) => c],
  [DAY, 10, 'gamma 1.8', gamma(2.2 / 1.8)],
  [DAY, 10, 'gamma 2.4', gamma(2.2 / 2.4)],
  [DAY, 10, 'S-curve', scurve],
]
for (const [condition, p, tone, curve] of cells) {
  const random = seededRandom(31 * p + condition.blurSigmaPx * 1e4)
  const e50: number[] = [],
    e10: number[] = [],
    u: number[] = []
  const methods: Record<string, number> = {}
  for (let n = 0; n < perCell; n += 1) {
    const paper = CHART_PAPERS[Math.floor(random.uniform() * CHART_PAPERS.length)]!
    const still = await takeChartStill(
      {
        paper,
        pixelsPerModule: p,
        wide: false,
        yawDeg: 40 * random.uniform() - 20,
        pitchDeg: 16 * random.uniform() - 8,
        rollDeg: 30 * random.uniform() - 15,
        width: 200 + 18 * p,
        height: 160 + 14 * p,
      },
      condition,
      random,
    )
    const image = { ...still.image, data: still.image.data.map(curve) }
    const found = findChart(image)
    if (!found.ok) {
      methods[found.code] = (methods[found.code] ?? 0) + 1
      continue
    }
    const outcome0 = measureChart(image, found.value, paper)
    if (!outcome0.ok) {
      methods[outcome0.code] = (methods[outcome0.code] ?? 0) + 1
      continue
    }
    const { sharpness, tones, problems } = outcome0.value
    const name =
      sharpness === null
        ? problems.map((one) => one.code).join()
        : `${sharpness.method}${tones === null ? '' : '+strip'}${sharpness.lifted ? ' lifted' : ''}${sharpness.waysAgree === false ? ' disagree' : ''}`
    const outcome = { ok: sharpness !== null, value: sharpness! }
    methods[name] = (methods[name] ?? 0) + 1
    if (!outcome.ok) continue
    for (const way of [outcome.value.horizontal, outcome.value.vertical]) {
      e50.push(100 * (way.mtf50 / frequencyAtModulation(0.5, condition.blurSigmaPx) - 1))
      e10.push(100 * (way.mtf10 / frequencyAtModulation(0.1, condition.blurSigmaPx) - 1))
      u.push((100 * way.mtf50U) / way.mtf50)
    }
  }
  console.log(
    `${condition.name} p=${p} ${tone}: MTF50 ${mean(e50).toFixed(2)} +- ${sd(e50).toFixed(2)} % (U ${mean(u).toFixed(1)}) MTF10 ${mean(e10).toFixed(2)} +- ${sd(e10).toFixed(2)} % ${JSON.stringify(methods)}`,
  )
}
