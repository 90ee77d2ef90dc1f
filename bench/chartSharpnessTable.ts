// Bias and scatter of the chart's sharpness against pixels per module: noise, tone curves, sharpening. Arguments: stills per row (12), then
// names of the condition or px per module that rows must have.
import { FRAME } from '../src/chart/printed/chartGeometry.js'
import { CHART_PAPERS } from '../src/chart/printed/chartPapers.js'
import { boxTo } from '../src/math/homography.js'
import type { Quad } from '../src/math/point.js'
import { seededRandom } from '../src/math/random.js'
import { measureChart } from '../src/measure/chart/measureChart.js'
import { frequencyAtModulation } from '../src/measure/edge/gaussianPixelMtf.js'
import { DARK, DAY, NOISY, SOFT, takeChartStill, type ChartCondition } from '../tests/support/chartStill.js'
import { GAMMA_18, GAMMA_24, S_CURVE, SRGB, type ToneCurve } from '../tests/support/toneCurves.js'

const perRow = Number(process.argv[2] ?? 12)
const only = process.argv.slice(3)
const mean = (a: readonly number[]): number => a.reduce((x, y) => x + y, 0) / a.length
const deviation = (a: readonly number[]): number => Math.sqrt(mean(a.map((x) => (x - mean(a)) ** 2)))
const unsharp = (sigmaPx: number, amount: number) => ({ sigmaPx, amount })
interface Row {
  readonly condition: ChartCondition
  readonly p: number
  readonly tone?: ToneCurve
  readonly sharpen?: { readonly sigmaPx: number; readonly amount: number }
}
const rows: readonly Row[] = [
  ...[3, 5, 10, 16].map((p) => ({ condition: DAY, p })),
  ...[5, 10, 16].map((p) => ({ condition: NOISY, p })),
  ...[3, 5, 10, 16].map((p) => ({ condition: SOFT, p })),
  ...[3, 5, 10, 16].map((p) => ({ condition: DARK, p })),
  ...[GAMMA_18, GAMMA_24, S_CURVE].flatMap((tone) => [10, 16].map((p) => ({ condition: DAY, p, tone }))),
  ...[unsharp(1, 0.3), unsharp(1, 1), unsharp(0.7, 1.5), unsharp(2, 1)].flatMap((sharpen) => [
    { condition: DAY, p: 5, sharpen },
    { condition: SOFT, p: 10, sharpen },
  ]),
]
let total = 0
for (const { condition, p, tone, sharpen } of rows) {
  if (!only.every((name) => [condition.name, String(p)].includes(name))) continue
  const curve = tone ?? SRGB
  const random = seededRandom(31 * p + condition.blurSigmaPx * 1e4 + condition.noiseDn)
  const [e50, e10, u50]: [number[], number[], number[]] = [[], [], []]
  const told: Record<string, number> = {}
  let inside = 0
  for (let n = 0; n < perRow; n += 1) {
    const paper = CHART_PAPERS[Math.floor(random.uniform() * CHART_PAPERS.length)]!
    const still = await takeChartStill(
      {
        paper,
        pixelsPerModule: p,
        wide: false,
        yawDeg: 40 * random.uniform() - 20,
        pitchDeg: 16 * random.uniform() - 8,
        rollDeg: 30 * random.uniform() - 15,
        width: 60 + 18 * p,
        height: 50 + 14 * p,
      },
      condition,
      random,
      sharpen === undefined ? {} : { sharpen },
    )
    total += 1
    const start = still.truth.corners.map(([x, y]) => [
      x + 0.2 * p * (random.uniform() - 0.5),
      y + 0.2 * p * (random.uniform() - 0.5),
    ]) as unknown as Quad
    const measured = measureChart(
      { ...still.image, data: still.image.data.map(curve.curve) },
      { map: boxTo(FRAME, start), face: paper.face, faceSure: true },
      paper,
    )
    const name = !measured.ok
      ? measured.code
      : [
          measured.value.sharpness?.method ?? 'none',
          ...(measured.value.tones === null ? [] : ['strip']),
          ...measured.value.problems.map(({ code }) => code),
        ].join(' ')
    told[name] = (told[name] ?? 0) + 1
    if (!measured.ok || measured.value.sharpness === null) continue
    for (const way of [measured.value.sharpness.horizontal, measured.value.sharpness.vertical]) {
      const truth = frequencyAtModulation(0.5, condition.blurSigmaPx)
      e50.push(100 * (way.mtf50 / truth - 1))
      e10.push(100 * (way.mtf10 / frequencyAtModulation(0.1, condition.blurSigmaPx) - 1))
      u50.push((100 * way.mtf50U) / way.mtf50)
      if (Math.abs(way.mtf50 - truth) <= way.mtf50U) inside += 1
    }
  }
  const kind = sharpen === undefined ? curve.name : `unsharp ${sharpen.sigmaPx} px x ${sharpen.amount}`
  console.log(
    `${condition.name.padEnd(5)} p ${String(p).padEnd(3)} ${kind}: MTF50 ${mean(e50).toFixed(1)} +- ${deviation(e50).toFixed(1)} %, ` +
      `MTF10 ${mean(e10).toFixed(1)} +- ${deviation(e10).toFixed(1)} %, greatest ${Math.max(...e50.map(Math.abs)).toFixed(1)} %, ` +
      `U ${mean(u50).toFixed(1)} % holds ${((100 * inside) / e50.length).toFixed(0)} % ${JSON.stringify(told)}`,
  )
}
console.log(`${total} stills`)
