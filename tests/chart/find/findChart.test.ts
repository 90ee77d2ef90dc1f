import { mirrorImage, type GreyImage } from '../../../src/chart/match/greyImage.js'
import { CHART_PAPERS, chartPaper } from '../../../src/chart/printed/chartPapers.js'
import type { Quad } from '../../../src/math/point.js'
import { seededRandom } from '../../../src/math/random.js'
import { evenImage } from '../../../src/simulate/camera/linearImage.js'
import { takeStill } from '../../../src/simulate/camera/virtualCamera.js'
import {
  chartTarget,
  clutter,
  DARK,
  DAY,
  placeChart,
  SOFT,
  takeChartStill,
  throughJpeg,
  type ChartCondition,
} from '../../support/chartStill.js'
import { findChart } from '../../support/findChart.js'
import { describe, expect, it } from 'vitest'

const exposure = { gain: 0.7, readNoiseDn: 2, shotNoiseDn: 0 }

/** Largest distance of a corner from the truth, px. */
function offPx(corners: Quad, truth: Quad): number {
  return Math.max(...corners.map((c, k) => Math.hypot(c[0] - truth[k]![0], c[1] - truth[k]![1])))
}

async function foundOf(
  condition: ChartCondition,
  pixelsPerModule: number,
  yawDeg: number,
  wide: boolean,
  stills: number,
  seed: number,
): Promise<{ found: number; wrongPlace: number; wrongFace: number }> {
  const random = seededRandom(seed)
  const tally = { found: 0, wrongPlace: 0, wrongFace: 0 }
  for (let n = 0; n < stills; n += 1) {
    const paper = CHART_PAPERS[Math.floor(random.uniform() * CHART_PAPERS.length)]!
    const still = await takeChartStill(
      {
        paper,
        pixelsPerModule,
        wide,
        yawDeg: random.uniform() < 0.5 ? yawDeg : -yawDeg,
        pitchDeg: 16 * random.uniform() - 8,
        rollDeg: 30 * random.uniform() - 15,
        width: 320,
        height: 240,
      },
      condition,
      random,
    )
    const outcome = findChart(still.image)
    if (!outcome.ok) continue
    if (offPx(outcome.value.corners, still.truth.corners) < 0.5 * pixelsPerModule) tally.found += 1
    else tally.wrongPlace += 1
    if (outcome.value.faceSure && outcome.value.face !== paper.face) tally.wrongFace += 1
  }
  return tally
}

describe('the finder', () => {
  const cases = [
    [DAY, 1.5, 0, false],
    [DAY, 1.5, 30, false],
    [DAY, 1.5, 0, true],
    [SOFT, 2, 0, false],
    [SOFT, 2, 30, false],
    [SOFT, 2, 0, true],
    [DARK, 2.5, 0, false],
    [DARK, 2.5, 30, false],
    [DAY, 8, 30, false],
  ] as const
  for (const [condition, p, yaw, wide] of cases)
    it(`finds the chart at ${p} px a module, ${condition.name}, turned ${yaw} degrees${wide ? ', at the edge of a wide lens' : ''}`, async () => {
      const stills = 8
      const tally = await foundOf(condition, p, yaw, wide, stills, 100 * p + yaw)
      console.log(`${condition.name} p=${p} yaw=${yaw} wide=${wide}: ${JSON.stringify(tally)} of ${stills}`)
      expect(tally.wrongPlace).toBe(0)
      expect(tally.wrongFace).toBe(0)
      expect(tally.found).toBeGreaterThanOrEqual(stills - 1)
    })

  it('finds the chart before a black night, where the ground shows less noise than the paper', async () => {
    const random = seededRandom(17)
    const night = { left: 0, top: 0, width: 320, height: 240 }
    let found = 0
    for (let n = 0; n < 12; n += 1) {
      const view = {
        paper: CHART_PAPERS[n % CHART_PAPERS.length]!,
        pixelsPerModule: 2.5,
        wide: false,
        yawDeg: 50 * random.uniform() - 25,
        pitchDeg: 16 * random.uniform() - 8,
        rollDeg: 30 * random.uniform() - 15,
        width: 320,
        height: 240,
      }
      const still = await takeChartStill(view, DARK, random, { background: evenImage(night, 1, 0) })
      const outcome = findChart(still.image)
      if (outcome.ok && offPx(outcome.value.corners, still.truth.corners) < 1.25) found += 1
    }
    expect(found).toBe(12)
  })

  it('sees no chart where there is none: clutter, by day and in noise', async () => {
    const random = seededRandom(3)
    for (let n = 0; n < 8; n += 1) {
      const background = clutter(480, 360, random)
      const station = placeChart(
        { paper: chartPaper('A4')!, pixelsPerModule: 3, yawDeg: 0, pitchDeg: 0, rollDeg: 0, wide: false },
        random,
      ).station
      const noise = n % 2 === 0 ? 2 : 12
      const still = takeStill(
        { station, background, targets: [], blurSigmaPx: 0.7, exposure: { ...exposure, readNoiseDn: noise } },
        random,
      )
      const outcome = findChart(await throughJpeg(still.image, 88))
      expect(outcome.ok ? 'a chart' : outcome.code).toBe('no-chart')
    }
  })

  it('says so where two charts are in view, instead of taking one', async () => {
    const random = seededRandom(4)
    const view = {
      paper: chartPaper('A3')!,
      pixelsPerModule: 5,
      yawDeg: 5,
      pitchDeg: 0,
      rollDeg: 3,
      wide: false,
    }
    const { station, pose } = placeChart({ ...view, width: 600, height: 240 }, random)
    const shift = (pose.centre[0] < 0 ? 1 : -1) * 17 * 0.0297
    const other = { ...pose, centre: [pose.centre[0] + shift, pose.centre[1], pose.centre[2]] as const }
    const background = clutter(600, 240, random)
    const targets = [{ target: chartTarget(view.paper, pose) }, { target: chartTarget(view.paper, other) }]
    const still = takeStill({ station, background, targets, blurSigmaPx: 0.7, exposure }, random)
    const outcome = findChart(await throughJpeg(still.image, 88))
    expect(outcome.ok ? 'one chart' : outcome.code).toBe('two-charts')
  })

  it('says so, too, where the second chart is so far off that only full size shows it', async () => {
    const random = seededRandom(11)
    const size = { width: 640, height: 480 }
    const turns = { yawDeg: 8, pitchDeg: 2, rollDeg: -4, wide: false, ...size }
    const near = placeChart({ paper: chartPaper('A3')!, pixelsPerModule: 10, ...turns }, random)
    const far = placeChart({ paper: chartPaper('A3')!, pixelsPerModule: 2, ...turns }, random)
    const behind = (aside: number): typeof far.pose => ({
      ...far.pose,
      centre: [aside, far.pose.centre[1], far.pose.centre[2]],
    })
    const reachM = far.pose.centre[1] * 0.16
    const aside = (near.pose.centre[0] > 0 ? -1 : 1) * reachM
    const stillOf = async (poses: readonly (typeof far.pose)[]): Promise<GreyImage> => {
      const targets = poses.map((pose) => ({ target: chartTarget(chartPaper('A3')!, pose) }))
      const background = clutter(size.width, size.height, seededRandom(12))
      const still = takeStill(
        { station: near.station, background, targets, blurSigmaPx: 0.7, exposure },
        seededRandom(13),
      )
      return throughJpeg(still.image, 88)
    }
    const two = findChart(await stillOf([near.pose, behind(aside)]))
    expect(two.ok ? `one chart of ${two.value.pixelsPerModule}` : two.code).toBe('two-charts')
    expect(findChart(await stillOf([near.pose])).ok).toBe(true)
    expect(findChart(await stillOf([behind(aside)])).ok).toBe(true)
  })

  it('tells a chart in a mirror from a chart', async () => {
    const random = seededRandom(5)
    const view = {
      paper: chartPaper('A4')!,
      pixelsPerModule: 5,
      yawDeg: 10,
      pitchDeg: 3,
      rollDeg: -4,
      wide: false,
    }
    const still = await takeChartStill(view, DAY, random)
    expect(findChart(still.image).ok).toBe(true)
    const outcome = findChart(mirrorImage(still.image))
    expect(outcome.ok ? 'a chart' : outcome.code).toBe('mirrored-chart')
  })

  it('finds a chart with a hand over a corner, in its right place', async () => {
    const random = seededRandom(6)
    const view = {
      paper: chartPaper('A4')!,
      pixelsPerModule: 5,
      yawDeg: 8,
      pitchDeg: 2,
      rollDeg: 5,
      wide: false,
    }
    const still = await takeChartStill(view, DAY, random)
    const [x, y] = still.truth.corners[2]
    const covered = withDisc(still.image, x, y, 2 * 5, 120)
    const outcome = findChart(covered)
    expect(outcome.ok ? offPx(outcome.value.corners, still.truth.corners) : Infinity).toBeLessThan(2.5)
  })

  it('makes no chart of one that the frame of the still cuts through', async () => {
    const random = seededRandom(7)
    const view = {
      paper: chartPaper('A4')!,
      pixelsPerModule: 5,
      yawDeg: 8,
      pitchDeg: 2,
      rollDeg: 5,
      wide: false,
    }
    const still = await takeChartStill(view, DAY, random)
    const cut = Math.floor(still.truth.centre[0] + 5)
    const { width, height, data } = still.image
    const part: GreyImage = { width: cut, height, data: new Float32Array(cut * height) }
    for (let row = 0; row < height; row += 1)
      part.data.set(data.subarray(row * width, row * width + cut), row * cut)
    expect(findChart(part).ok).toBe(false)
  })
})

function withDisc(image: GreyImage, x: number, y: number, radius: number, code: number): GreyImage {
  const data = image.data.slice()
  for (let j = 0; j < image.height; j += 1)
    for (let i = 0; i < image.width; i += 1)
      if (Math.hypot(i + 0.5 - x, j + 0.5 - y) < radius) data[j * image.width + i] = code
  return { ...image, data }
}
