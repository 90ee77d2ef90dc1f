import { FRAME_HEIGHT_MODULES, FRAME_WIDTH_MODULES, moduleM } from '../src/chart/printed/chartGeometry.js'
import { CHART_PAPERS } from '../src/chart/printed/chartPapers.js'
import type { Quad } from '../src/math/point.js'
import { seededRandom, type Random } from '../src/math/random.js'
import { targetTruth } from '../src/simulate/camera/targetTruth.js'
import { takeStill } from '../src/simulate/camera/virtualCamera.js'
import {
  chartTarget,
  clutter,
  DARK,
  DAY,
  gainFor,
  placeChart,
  SOFT,
  throughJpeg,
} from '../tests/support/chartStill.js'
import { findChart } from '../tests/support/findChart.js'

// How far off a second chart is told beside a nearer one: share of stills that say so, by its px per module. Arguments: stills a size (24), condition, px per module (all).

const STILLS = Number(process.argv[2] ?? 24)
const SIZE = { width: 800, height: 600 }
const NEAR_PX = [5, 8, 12]

for (const condition of [DAY, SOFT, DARK])
  for (const p of [1.25, 1.5, 2, 2.5, 3, 4]) {
    if (!condition.name.startsWith(process.argv[3] ?? '') || (process.argv[4] ?? `${p}`) !== `${p}`) continue

    const random = seededRandom(1000 * p + 10 * condition.blurSigmaPx)
    const tally = { two: 0, one: 0, none: 0 }
    for (let n = 0; n < STILLS; n += 1) {
      const outcome = findChart(await stillOfTwo(NEAR_PX[n % NEAR_PX.length]!, p, condition, random))
      if (outcome.ok) tally.one += 1
      else if (outcome.code === 'two-charts') tally.two += 1
      else tally.none += 1
    }
    console.log(
      `| ${condition.name} | ${p} | told ${tally.two} of ${STILLS} | one taken ${tally.one} | none ${tally.none} |`,
    )
  }

async function stillOfTwo(
  nearPx: number,
  farPx: number,
  condition: typeof DAY,
  random: Random,
): Promise<Awaited<ReturnType<typeof throughJpeg>>> {
  for (;;) {
    const placed = [nearPx, farPx].map((pixelsPerModule) => {
      const paper = CHART_PAPERS[Math.floor(random.uniform() * CHART_PAPERS.length)]!
      const turns = {
        yawDeg: 60 * random.uniform() - 30,
        pitchDeg: 16 * random.uniform() - 8,
        rollDeg: 30 * random.uniform() - 15,
      }
      const view = { paper, pixelsPerModule, wide: false, ...turns, ...SIZE }
      const { station, pose } = placeChart(view, random)
      const module = moduleM(paper)
      const { corners } = targetTruth(
        station,
        pose,
        FRAME_WIDTH_MODULES * module,
        FRAME_HEIGHT_MODULES * module,
      )
      return { paper, pixelsPerModule, station, pose, corners }
    })
    const [near, far] = [placed[0]!, placed[1]!]
    if (overlap(near.corners, far.corners, 3 * (nearPx + farPx))) continue
    const still = takeStill(
      {
        station: near.station,
        background: clutter(SIZE.width, SIZE.height, random),
        targets: [near, far].map(({ paper, pose }) => ({ target: chartTarget(paper, pose) })),
        blurSigmaPx: condition.blurSigmaPx,
        exposure: { gain: gainFor(condition.contrastDn), readNoiseDn: condition.noiseDn, shotNoiseDn: 0 },
      },
      random,
    )
    return throughJpeg(still.image, condition.jpegQuality)
  }
}

function overlap(a: Quad, b: Quad, margin: number): boolean {
  return [0, 1].every((axis) => {
    const [as, bs] = [a.map((corner) => corner[axis]!), b.map((corner) => corner[axis]!)]
    return Math.min(...as) - margin < Math.max(...bs) && Math.min(...bs) - margin < Math.max(...as)
  })
}
