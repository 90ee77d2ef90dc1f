import type { FoundChart } from '../src/chart/find/foundChart.js'
import { FRAME } from '../src/chart/printed/chartGeometry.js'
import { CHART_PAPERS } from '../src/chart/printed/chartPapers.js'
import { boxTo, movedHomography } from '../src/math/homography.js'
import type { Quad } from '../src/math/point.js'
import { seededRandom } from '../src/math/random.js'
import { measureDensity } from '../src/measure/density/density.js'
import type { DensityContext } from '../src/measure/density/measuredDensity.js'
import { chartReference } from '../src/measure/reference/chartReference.js'
import { measureFoundChart } from '../src/walk/measure/measureFoundChart.js'
import {
  chartLight,
  DARK,
  DAY,
  exposeChart,
  NOISY,
  renderChart,
  SOFT,
  WIDE_STILL,
  type ChartCondition,
} from '../tests/support/chartStill.js'
import { findChart } from '../tests/support/findChart.js'
import { densityBound } from './densityBound.js'

// Bias, scatter against its bound, and coverage of what a user gets of a found chart's density, against pixels per module, with the CPU time of measuring it.
// Arguments: intervals per cell (two a still), then names of conditions or views that rows must have (day, noisy, soft, dark; 0, 30, turned, wide; px per module).
// Four stills are taken of every view; turned is by up to 30 degrees. Wide rows are read with the lens unknown and through the lens known; SEARCH=1 begins with the finder's outline.

const perCell = Math.ceil(Number(process.argv[2] ?? 40) / 8) * 8
const only = process.argv.slice(3)
const mean = (a: readonly number[]): number => a.reduce((x, y) => x + y, 0) / a.length
const deviation = (a: readonly number[]): number =>
  Math.sqrt(mean(a.map((x) => (x - mean(a)) ** 2)) * (a.length / (a.length - 1)))

const cells: readonly [ChartCondition, readonly number[]][] = [
  [DAY, [1.5, 2, 2.5, 3, 5, 10, 20]],
  [NOISY, [2.5, 3, 5, 10, 20]],
  [SOFT, [2.5, 3, 5, 10, 20]],
  [DARK, [2.5, 3, 5, 10, 20]],
]
const views = [
  { name: '0', yawDeg: 0, wide: false },
  { name: '30', yawDeg: 30, wide: false },
  { name: 'turned', yawDeg: 30, wide: false },
  { name: 'wide', yawDeg: 0, wide: true },
]
/** Errors and coverage of both axes of some stills. */
class Tally {
  readonly errors: number[] = []
  readonly z: number[] = []
  readonly half: number[] = []
  add(said: number, u: number, truth: number): void {
    this.errors.push(100 * (said / truth - 1))
    this.z.push((2 * (said - truth)) / u)
    this.half.push((100 * u) / said)
  }
  toString(): string {
    const covered = this.z.filter((z) => Math.abs(z) <= 2).length / this.z.length
    const rms = Math.sqrt(mean(this.z.map((one) => one * one)))
    return (
      `bias ${mean(this.errors).toFixed(3)} %, deviation ${deviation(this.errors).toFixed(4)} %, ` +
      `95 % holds ${(100 * covered).toFixed(1)} of ${this.z.length} (z ${rms.toFixed(2)}, half width ${mean(this.half).toFixed(3)} %)`
    )
  }
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
      const [plain, through] = [new Tally(), new Tally()]
      const [bounds, blurs]: [number[], number[]] = [[], []]
      const told: Record<string, number> = {}
      let [cpu, taken] = [0, 0]
      for (let n = 0; n < perCell / 8; n += 1) {
        const paper = CHART_PAPERS[Math.floor(random.uniform() * CHART_PAPERS.length)]!
        const rendered = renderChart(
          {
            paper,
            pixelsPerModule: p,
            wide: view.wide,
            yawDeg:
              view.yawDeg *
              (view.name === 'turned' ? 2 * random.uniform() - 1 : random.uniform() < 0.5 ? -1 : 1),
            pitchDeg: 16 * random.uniform() - 8,
            rollDeg: 30 * random.uniform() - 15,
            width: Math.round(60 + 20 * p),
            height: Math.round(50 + 16 * p),
          },
          condition,
          random,
        )
        for (let copy = 0; copy < 4; copy += 1) {
          const still = await exposeChart(rendered, condition, random)
          total += 1
          taken += 1
          const { image, truth, axis } = still
          // The finder's outlines are a tenth of a module off at most.
          const corners = truth.corners.map(([x, y]) => [
            x + 0.2 * p * (random.uniform() - 0.5),
            y + 0.2 * p * (random.uniform() - 0.5),
          ]) as unknown as Quad
          const found = process.env.SEARCH === undefined ? null : findChart(image)
          const map = boxTo(FRAME, corners)
          const seen = { map, corners, pixelsPerModule: p, face: paper.face, faceSure: true } as FoundChart
          const begin = process.cpuUsage()
          // A flat lens' still is this picture, a wide one's a larger one around its axis.
          const { width, height } = view.wide ? WIDE_STILL : image
          const [left, top] = view.wide ? [Math.round(width / 2 - axis[0]), height / 2 - axis[1]] : [0, 0]
          const inStill = ({ map: m, corners: c, ...rest }: FoundChart): FoundChart => ({
            ...rest,
            map: movedHomography(m, left, top),
            corners: c.map(([x, y]) => [x + left, y + top]) as unknown as Quad,
          })
          const chart = measureFoundChart(
            { width, height, lumaRegion: () => ({ left, top, ...image }) },
            inStill(found?.ok === true ? found.value : seen),
            paper,
          )
          const spent = process.cpuUsage(begin)
          cpu += (spent.user + spent.system) / 1000
          for (const word of chart.ok
            ? chart.value.problems.map(({ code }) => code)
            : [`failed ${chart.code}`])
            told[word] = (told[word] ?? 0) + 1
          if (!chart.ok) continue
          // The size is exact here; a wide lens' picture is taken for one of 180 degrees across, of which the still is a part.
          const reference = {
            ...chartReference('chart', paper, null),
            widthToleranceM: 0,
            heightToleranceM: 0,
          }
          const read = (tally: Tally, context: Partial<DensityContext>) => {
            const seen = { stillWidth: width, stillHeight: height, ...context }
            const measured = measureDensity(reference, chart.value.pick, seen)
            if (!measured.ok) throw new Error(measured.message)
            const { horizontal, vertical, horizontalU, verticalU } = measured.value.density
            tally.add(horizontal!, horizontalU!, truth.horizontalPxPerM)
            tally.add(vertical!, verticalU!, truth.verticalPxPerM)
          }
          read(plain, { distanceM: view.wide ? truth.distanceM : 1e6 })
          if (view.wide) {
            const lens = { ...rendered.station.lens, centreX: axis[0] + left, centreY: axis[1] + top }
            const known = { lens, varianceQ: 0, covariance: 0, varianceLogF: 0 }
            read(through, { distanceM: truth.distanceM, known })
          }
          if (chart.value.fit.view !== null) told.lens = (told.lens ?? 0) + 1
          blurs.push(chart.value.fit.blur.upright.sigmaPx, chart.value.fit.blur.level.sigmaPx)
          if (bounds.length < 6 && copy === 0) {
            const bound = densityBound({
              face: paper.face,
              corners: truth.corners,
              blurSigmaPx: condition.blurSigmaPx,
              ...chartLight(condition),
              noiseDn: condition.noiseDn,
              widthM: reference.widthM,
              heightM: reference.heightM,
            })
            bounds.push((100 * bound.horizontal) ** 2, (100 * bound.vertical) ** 2)
          }
        }
      }
      const times = deviation(plain.errors) / Math.sqrt(mean(bounds))
      console.log(
        `${condition.name.padEnd(5)} ${view.name.padEnd(4)} p ${String(p).padEnd(4)}: ${plain} ${times.toFixed(2)} x bound, ` +
          `blur ${mean(blurs).toFixed(3)} +- ${deviation(blurs).toFixed(3)} px, ${(cpu / taken).toFixed(0)} ms ${JSON.stringify(told)}`,
      )
      if (view.wide) console.log(`  through the lens known: ${through}`)
    }
console.log(`${total} stills`)
