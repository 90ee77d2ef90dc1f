// Found rate and time against px per module. Arguments: stills per cell (28: 2,016 stills), condition (all). Runs compiled or bundled; SHOW=1 lists outlines in a wrong place.
import { findChart } from '../src/chart/findChart.js'
import { CHART_PAPERS } from '../src/chart/chartPapers.js'
import { seededRandom } from '../src/math/random.js'
import { DARK, DAY, SOFT, takeChartStill, type ChartCondition } from './chartStill.js'

const perCell = Number(process.argv[2] ?? 20)
const only = process.argv[3]

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
for (const [condition, sizes] of cells) {
  if (only !== undefined && condition.name !== only) continue
  for (const p of sizes) {
    const line: string[] = []
    for (const pose of poses) {
      const random = seededRandom(
        1000 * p + 7 * pose.yawDeg + (pose.wide ? 3 : 0) + condition.blurSigmaPx * 1e5,
      )
      let [found, wrong, faces, time, low, lowW] = [0, 0, 0, 0, 1, 1]
      for (let n = 0; n < perCell; n += 1) {
        const paper = CHART_PAPERS[Math.floor(random.uniform() * CHART_PAPERS.length)]!
        const still = await takeChartStill(
          {
            paper,
            pixelsPerModule: p,
            wide: pose.wide,
            yawDeg: pose.yawDeg * (random.uniform() < 0.5 ? -1 : 1),
            pitchDeg: 16 * random.uniform() - 8,
            rollDeg: 30 * random.uniform() - 15,
          },
          condition,
          random,
        )
        const begin = performance.now()
        const outcome = findChart(still.image)
        time += performance.now() - begin
        if (!outcome.ok) continue
        const off = Math.max(
          ...outcome.value.corners.map((corner, k) =>
            Math.hypot(corner[0] - still.truth.corners[k]![0], corner[1] - still.truth.corners[k]![1]),
          ),
        )
        if (off < 0.5 * p) {
          found += 1
          low = Math.min(low, outcome.value.correlation)
          lowW = Math.min(lowW, outcome.value.worstWindow)
          if (outcome.value.faceSure) faces += outcome.value.face === paper.face ? 1 : -1000
        } else {
          wrong += 1
          if (process.env.SHOW)
            console.log(
              '   wrong',
              pose.name,
              p,
              'off',
              off.toFixed(2),
              'r',
              outcome.value.correlation.toFixed(3),
              'w',
              outcome.value.worstWindow.toFixed(2),
              'kept',
              outcome.value.kept.toFixed(2),
              'p',
              outcome.value.pixelsPerModule.toFixed(2),
              'sigma',
              outcome.value.sigmaModules,
              outcome.value.corners.map((c) => c.map((v) => v.toFixed(1)).join(',')).join(' '),
              '/',
              still.truth.corners.map((c) => c.map((v) => v.toFixed(1)).join(',')).join(' '),
            )
        }
      }
      line.push(
        `${pose.name}: ${((100 * found) / perCell).toFixed(0)}%${wrong > 0 ? ` WRONG ${wrong}` : ''} face ${faces} r>=${low.toFixed(2)} w>=${lowW.toFixed(2)} ${(time / perCell).toFixed(0)}ms`,
      )
    }
    console.log(`${condition.name} p=${p}  ${line.join(' | ')}`)
  }
}
