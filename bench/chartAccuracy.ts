// Bias, scatter against its bound, and coverage of the chart's density against pixels per module, with the fit's CPU time.
// Arguments: stills per cell, then names of conditions or views that rows must have (day, soft, dark; 0, 30, wide).
import { CHART_PAPERS } from '../src/chart/chartPapers.js'
import { fitChart } from '../src/chart/fitChart.js'
import { FRAME, FRAME_HEIGHT_MODULES, FRAME_WIDTH_MODULES, moduleM } from '../src/chart/chartGeometry.js'
import { boxTo } from '../src/chart/planeMap.js'
import type { Quad } from '../src/math/point.js'
import { seededRandom } from '../src/math/random.js'
import { chartPick } from '../src/measure/chartPick.js'
import { measureDensity } from '../src/measure/density.js'
import { densityBound } from './densityBound.js'
import {
  chartLight,
  DARK,
  DAY,
  NOISY,
  SOFT,
  takeChartStill,
  type ChartCondition,
  type ChartStill,
} from './chartStill.js'

const perCell = Number(process.argv[2] ?? 20)
const only = process.argv.slice(3)
const mean = (a: readonly number[]): number => a.reduce((x, y) => x + y, 0) / a.length
const deviation = (a: readonly number[]): number =>
  Math.sqrt(mean(a.map((x) => (x - mean(a)) ** 2)) * (a.length / (a.length - 1)))

const cells: readonly [ChartCondition, readonly number[]][] = [
  [DAY, [1.5, 2, 3, 5, 10]],
  [NOISY, [3, 5, 10]],
  [SOFT, [2.5, 3, 5, 10]],
  [DARK, [2.5, 3, 5, 10]],
]
const views = [
  { name: '0', yawDeg: 0, wide: false },
  { name: '30', yawDeg: 30, wide: false },
  { name: 'wide', yawDeg: 0, wide: true },
]
/** What the wide lens, 2F sin(t/2) at F = 420, would fill with 180 degrees across its diagonal, px. */
const WIDE_STILL = [840, 840] as const
/** What carries the chart to as far from that picture's middle as it is off the lens' axis, along a slant on which it stays inside. */
function wideOffset({ truth, axis }: ChartStill): readonly [number, number] {
  const [x, y] = truth.centre
  const out = Math.hypot(x - axis[0], y - axis[1])
  return [WIDE_STILL[0] / 2 + out * Math.SQRT1_2 - x, WIDE_STILL[1] / 2 + out * Math.SQRT1_2 - y]
}

let total = 0
for (const [condition, sizes] of cells)
  for (const view of views)
    for (const p of sizes) {
      const names = [condition.name, view.name, String(p)]
      if (!only.every((name) => names.includes(name))) continue
      const random = seededRandom(
        77 * p + condition.noiseDn * 1e4 + condition.blurSigmaPx * 1e3 + view.yawDeg,
      )
      const [errors, bounds, covered]: [number[], number[], number[]] = [[], [], []]
      const [z, blurs]: [number[], number[]] = [[], []]
      let [cpu, failed] = [0, 0]
      for (let n = 0; n < perCell; n += 1) {
        const paper = CHART_PAPERS[Math.floor(random.uniform() * CHART_PAPERS.length)]!
        const still = await takeChartStill(
          {
            paper,
            pixelsPerModule: p,
            wide: view.wide,
            yawDeg: view.yawDeg * (random.uniform() < 0.5 ? -1 : 1),
            pitchDeg: 16 * random.uniform() - 8,
            rollDeg: 30 * random.uniform() - 15,
            width: 60 + 20 * p,
            height: 50 + 16 * p,
          },
          condition,
          random,
        )
        total += 1
        // The finder's outlines are a tenth of a module off at most.
        const start = still.truth.corners.map(([x, y]) => [
          x + 0.2 * p * (random.uniform() - 0.5),
          y + 0.2 * p * (random.uniform() - 0.5),
        ]) as unknown as Quad
        const begin = process.cpuUsage()
        const fit = fitChart(still.image, boxTo(FRAME, start), { face: paper.face, faces: false })
        const spent = process.cpuUsage(begin)
        cpu += (spent.user + spent.system) / 1000
        if (!fit.ok) {
          failed += 1
          continue
        }
        const widthM = FRAME_WIDTH_MODULES * moduleM(paper)
        const heightM = FRAME_HEIGHT_MODULES * moduleM(paper)
        // The size is exact here; a wide lens' picture is taken for one of 180 degrees across, of which the still is a part.
        const [width, height] = view.wide ? WIDE_STILL : [still.image.width, still.image.height]
        const [offX, offY] = view.wide ? wideOffset(still) : [0, 0]
        const pick = chartPick(fit.value)
        const measured = measureDensity(
          {
            kind: 'rectangle',
            name: 'chart',
            widthM,
            heightM,
            widthToleranceM: 0,
            heightToleranceM: 0,
            marking: 'characters',
          },
          { ...pick, corners: pick.corners.map(([x, y]) => [x + offX, y + offY]) as unknown as Quad },
          {
            stillWidth: width,
            stillHeight: height,
            distanceM: view.wide ? still.truth.distanceM : 1e6,
          },
        )
        if (!measured.ok) throw new Error(measured.message)
        const { horizontal, vertical, horizontalU, verticalU } = measured.value.density
        const { horizontalPxPerM, verticalPxPerM } = still.truth
        errors.push(100 * (horizontal! / horizontalPxPerM - 1), 100 * (vertical! / verticalPxPerM - 1))
        covered.push(Number(Math.abs(horizontal! - horizontalPxPerM) <= horizontalU!))
        covered.push(Number(Math.abs(vertical! - verticalPxPerM) <= verticalU!))
        z.push(
          (2 * (horizontal! - horizontalPxPerM)) / horizontalU!,
          (2 * (vertical! - verticalPxPerM)) / verticalU!,
        )
        blurs.push(fit.value.blur.upright.sigmaPx, fit.value.blur.level.sigmaPx)
        if (n < 2) {
          const bound = densityBound({
            face: paper.face,
            corners: still.truth.corners,
            blurSigmaPx: condition.blurSigmaPx,
            ...chartLight(condition),
            noiseDn: condition.noiseDn,
            widthM,
            heightM,
          })
          bounds.push((100 * bound.horizontal) ** 2, (100 * bound.vertical) ** 2)
        }
      }
      const scatter = deviation(errors)
      console.log(
        `${condition.name.padEnd(5)} ${view.name.padEnd(4)} p ${String(p).padEnd(4)} n ${errors.length / 2} failed ${failed}: bias ${mean(errors).toFixed(3)} %, ` +
          `deviation ${scatter.toFixed(4)} % = ${(scatter / Math.sqrt(mean(bounds))).toFixed(2)} x bound, ` +
          `95 % holds ${(100 * mean(covered)).toFixed(1)} (z ${Math.sqrt(mean(z.map((one) => one * one))).toFixed(2)}), ` +
          `blur ${mean(blurs).toFixed(3)} +- ${deviation(blurs).toFixed(3)} px, ${(cpu / perCell).toFixed(0)} ms`,
      )
    }
console.log(`${total} stills`)
