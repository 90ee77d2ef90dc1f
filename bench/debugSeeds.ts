import { CHART_PAPERS } from '../src/chart/chartPapers.js'
import { findChart } from '../src/chart/findChart.js'
import { boxSeeds } from '../src/chart/boxSeeds.js'
import { chartTemplates } from '../src/chart/chartTemplate.js'
import { followCandidate, frameCorners } from '../src/chart/chartCandidate.js'
import { fitChart } from '../src/chart/fitChart.js'
import { halveImage } from '../src/chart/greyImage.js'
import { boxTo } from '../src/chart/planeMap.js'
import { FRAME } from '../src/chart/chartGeometry.js'
import { seededRandom } from '../src/math/random.js'
import { DARK, DAY, SOFT, takeChartStill } from './chartStill.js'
const condition = { day: DAY, soft: SOFT, dark: DARK }[process.argv[2] as 'day']
const p = Number(process.argv[3]); const yaw = Number(process.argv[4]); const wide = process.argv[5] === 'wide'
const random = seededRandom(5)
const t = (f: () => unknown): number => { const b = performance.now(); f(); return performance.now() - b }
for (let n = 0; n < 14; n += 1) {
  const paper = CHART_PAPERS[Math.floor(random.uniform() * 8)]!
  const still = await takeChartStill({ paper, pixelsPerModule: p, wide, yawDeg: yaw, pitchDeg: 16 * random.uniform() - 8, rollDeg: 30 * random.uniform() - 15 }, condition, random)
  const b0 = performance.now(); const found = findChart(still.image); const tf = performance.now() - b0
  const half = halveImage(still.image)
  let seeds: ReturnType<typeof boxSeeds> = []
  const ts = t(() => (seeds = boxSeeds(half, 0.4, 1000)))
  const [cx, cy] = [still.truth.centre[0] / 2, still.truth.centre[1] / 2]
  const rank = seeds.findIndex((s) => Math.hypot(s.x - cx, s.y - cy) < 2 * p)
  const sets = [0.7, 0.45, 0.25, 1].map((s) => chartTemplates(s, 0.4))
  const fol = followCandidate(still.image, boxTo(FRAME, still.truth.corners), sets, 0.72)
  const err = fol === null ? -1 : Math.max(...frameCorners(fol.map).map((c, k) => Math.hypot(c[0] - still.truth.corners[k]![0], c[1] - still.truth.corners[k]![1]))) / p
  let fit: ReturnType<typeof fitChart> | null = null
  const tt = t(() => (fit = fitChart(still.image, boxTo(FRAME, still.truth.corners), { face: paper.face })))
  const fe = fit!.ok ? Math.max(...fit!.value.corners.map((c, k) => Math.hypot(c[0] - still.truth.corners[k]![0], c[1] - still.truth.corners[k]![1]))) / p : -1
  console.log(found.ok ? 'found' : '-----', tf.toFixed(0) + 'ms', 'seeds', seeds.length, 'over.5', seeds.filter((s) => s.correlation > 0.5).length, ts.toFixed(0) + 'ms', 'rank', rank, seeds[rank]?.correlation.toFixed(2), 'follow', fol?.correlation.toFixed(3), 'err', err.toFixed(2), 'fit', fit!.ok ? fit!.value.correlation.toFixed(3) : fit!.code, fe.toFixed(2), tt.toFixed(0) + 'ms')
}
