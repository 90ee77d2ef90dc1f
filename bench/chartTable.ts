// Found rate, and bias and scatter of the frame's width and height, against px per module. Arguments: stills per cell (28: 2,016 stills), condition
// (all), `demanded`: only the sizes and turns at which charts must be found. SHOW=1 lists outlines in a wrong place.
import { CHART_PAPERS } from '../src/chart/printed/chartPapers.js'
import { fitChart } from '../src/chart/fit/fitChart.js'
import type { Quad } from '../src/math/point.js'
import { seededRandom } from '../src/math/random.js'
import { DARK, DAY, SOFT, takeChartStill, type ChartCondition } from '../tests/support/chartStill.js'
import { findChart } from '../tests/support/findChart.js'

const perCell = Number(process.argv[2] ?? 28)
const only = process.argv[3]
const demanded = process.argv[4] === 'demanded'
const DEMANDED = { day: 1.5, soft: 2, dark: 2.5 } as Readonly<Record<string, number>>

interface Pose {
  readonly name: string
  readonly yawDeg: number
  readonly wide: boolean
}
const poses: Pose[] = [
  { name: 'yaw 0', yawDeg: 0, wide: false },
  { name: 'yaw 30', yawDeg: 30, wide: false },
  { name: 'yaw 45', yawDeg: 45, wide: false },
  { name: 'wide', yawDeg: 0, wide: true },
]
const cells: [ChartCondition, number[]][] = [
  [DAY, [1, 1.25, 1.5, 2, 3, 5, 10]],
  [SOFT, [1.5, 1.75, 2, 2.5, 3, 5]],
  [DARK, [1.75, 2, 2.5, 3, 5]],
]
let stills = 0
for (const [condition, sizes] of cells) {
  if (only !== undefined && only !== 'all' && condition.name !== only) continue
  for (const p of sizes)
    for (const pose of poses) {
      if (demanded && (p !== DEMANDED[condition.name] || pose.yawDeg > 30)) continue
      console.log(`| ${condition.name} | ${p} | ${pose.name} | ${await cell(condition, p, pose)} |`)
      stills += perCell
    }
}
console.log(`${stills} stills`)

async function cell(condition: ChartCondition, p: number, pose: Pose): Promise<string> {
  const random = seededRandom(1000 * p + 7 * pose.yawDeg + (pose.wide ? 3 : 0) + condition.blurSigmaPx * 1e5)
  let [found, wrong, faces, wrongFaces, cpu] = [0, 0, 0, 0, 0]
  const errors: (readonly [number, number])[] = []
  for (let n = 0; n < perCell; n += 1) {
    const paper = CHART_PAPERS[Math.floor(random.uniform() * CHART_PAPERS.length)]!
    const view = {
      paper,
      pixelsPerModule: p,
      wide: pose.wide,
      yawDeg: pose.yawDeg * (random.uniform() < 0.5 ? -1 : 1),
      pitchDeg: 16 * random.uniform() - 8,
      rollDeg: 30 * random.uniform() - 15,
    }
    const { image, truth } = await takeChartStill(view, condition, random)
    const begin = process.cpuUsage().user
    const outcome = findChart(image)
    cpu += (process.cpuUsage().user - begin) / 1000
    if (!outcome.ok) continue
    const { corners, map, face, faceSure } = outcome.value
    const off = Math.max(
      ...corners.map((c, k) => Math.hypot(c[0] - truth.corners[k]![0], c[1] - truth.corners[k]![1])),
    )
    if (off >= 0.5 * p) {
      wrong += 1
      if (process.env.SHOW) console.log('wrong', off.toFixed(2), JSON.stringify(outcome.value), truth.corners)
      continue
    }
    found += 1
    if (faceSure) {
      faces += 1
      if (face !== paper.face) wrongFaces += 1
    }
    const fit = fitChart(image, map, { face: paper.face })
    if (fit.ok) errors.push(sideErrors(fit.value.corners, truth.corners))
  }
  return [
    `${found} of ${perCell}`,
    wrong,
    `${faces}${wrongFaces > 0 ? ` (${wrongFaces} wrong)` : ''}`,
    spread(errors.map((error) => error[0])),
    spread(errors.map((error) => error[1])),
    `${(cpu / perCell).toFixed(0)} ms`,
  ].join(' | ')
}

/** Errors of the frame's width and height in the picture, %. */
function sideErrors(corners: Quad, truth: Quad): readonly [number, number] {
  const side = (quad: Quad, a: number, b: number): number =>
    Math.hypot(quad[a]![0] - quad[b]![0], quad[a]![1] - quad[b]![1])
  const width = (quad: Quad): number => side(quad, 0, 1) + side(quad, 3, 2)
  const height = (quad: Quad): number => side(quad, 0, 3) + side(quad, 1, 2)
  return [100 * (width(corners) / width(truth) - 1), 100 * (height(corners) / height(truth) - 1)]
}

/** Mean and standard deviation. */
function spread(values: readonly number[]): string {
  if (values.length < 2) return '-'
  const mean = values.reduce((a, b) => a + b, 0) / values.length
  const variance = values.reduce((a, b) => a + (b - mean) ** 2, 0) / (values.length - 1)
  return `${mean.toFixed(2)} / ${Math.sqrt(variance).toFixed(2)}`
}
