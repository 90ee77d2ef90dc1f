// Bias, scatter and coverage of the chart's density against pixels per module. Arguments: stills per cell, condition.
import { CHART_PAPERS } from '../src/chart/chartPapers.js'
import { findChart } from '../src/chart/findChart.js'
import { fitChart } from '../src/chart/fitChart.js'
import { moduleM } from '../src/chart/chartGeometry.js'
import { mapJacobian } from '../src/chart/planeMap.js'
import { seededRandom } from '../src/math/random.js'
import { DARK, DAY, SOFT, takeChartStill, type ChartCondition } from './chartStill.js'

const perCell = Number(process.argv[2] ?? 20)
const only = process.argv[3]
const mean = (a: number[]): number => a.reduce((x, y) => x + y, 0) / a.length
const sd = (a: number[]): number =>
  Math.sqrt(mean(a.map((x) => (x - mean(a)) ** 2)) * (a.length / (a.length - 1)))
const cells: [ChartCondition, number[]][] = [
  [DAY, [1.5, 2, 3, 5, 10]],
  [SOFT, [2, 3, 5]],
  [DARK, [2.5, 3, 5, 10]],
]
for (const [condition, sizes] of cells) {
  if (only !== undefined && condition.name !== only) continue
  for (const p of sizes) {
    const random = seededRandom(77 * p + condition.blurSigmaPx * 1e4)
    const h: number[] = [],
      v: number[] = [],
      blur: number[] = [],
      ic: number[] = [],
      chi: number[] = []
    let [time, failed, shift, resid] = [0, 0, 0, 0]
    for (let n = 0; n < perCell; n += 1) {
      const paper = CHART_PAPERS[Math.floor(random.uniform() * CHART_PAPERS.length)]!
      const still = await takeChartStill(
        {
          paper,
          pixelsPerModule: p,
          wide: false,
          yawDeg: 60 * random.uniform() - 30,
          pitchDeg: 16 * random.uniform() - 8,
          rollDeg: 30 * random.uniform() - 15,
          width: 240 + 20 * p,
          height: 200 + 16 * p,
        },
        condition,
        random,
      )
      const found = findChart(still.image)
      if (!found.ok) {
        failed += 1
        continue
      }
      const begin = performance.now()
      const fit = fitChart(still.image, found.value.map, { face: paper.face })
      time += performance.now() - begin
      if (!fit.ok) {
        failed += 1
        if (process.env.SHOW) console.log(fit.code)
        continue
      }
      const m = moduleM(paper)
      const [a, b, c, d] = mapJacobian(fit.value.map, 7, 5)
      h.push(100 * (Math.hypot(a, c) / m / still.truth.horizontalPxPerM - 1))
      v.push(100 * (Math.hypot(b, d) / m / still.truth.verticalPxPerM - 1))
      const [e, , g] = mapJacobian(found.value.map, 7, 5)
      ic.push(100 * (Math.hypot(e, g) / m / still.truth.horizontalPxPerM - 1))
      blur.push(fit.value.blurSigmaPx)
      shift += fit.value.edgeShiftPx / perCell
      resid += fit.value.residualDn / perCell
      still.truth.corners.forEach((corner, k) => {
        for (const axis of [0, 1] as const)
          chi.push(
            (fit.value.corners[k]![axis] - corner[axis]) /
              Math.sqrt(fit.value.covariancePx2[2 * k + axis]![2 * k + axis]!),
          )
      })
    }
    const inside = chi.filter((z) => Math.abs(z) < 1.96).length / chi.length
    console.log(
      `${condition.name} p=${p} n=${h.length} failed ${failed} bias h ${mean(h).toFixed(3)} v ${mean(v).toFixed(3)} % sd ${sd(h).toFixed(3)} ${sd(v).toFixed(3)} (seed ${mean(ic).toFixed(2)}/${sd(ic).toFixed(2)}) blur ${mean(blur).toFixed(3)}/${sd(blur).toFixed(3)} shift ${shift.toFixed(3)} resid ${resid.toFixed(2)} corners in 95%: ${(100 * inside).toFixed(1)} z sd ${sd(chi).toFixed(2)} ${(time / perCell).toFixed(0)}ms`,
    )
  }
}
