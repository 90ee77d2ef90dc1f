// How near ordinary stills of a chart come to being taken for pictures of a screen: the greatest scores of each kind. Argument: stills of each (20).
import { FRAME } from '../src/chart/printed/chartGeometry.js'
import { CHART_PAPERS } from '../src/chart/printed/chartPapers.js'
import { fitChart } from '../src/chart/fit/fitChart.js'
import type { GreyImage } from '../src/chart/match/greyImage.js'
import { boxTo } from '../src/math/homography.js'
import { seededRandom, type Random } from '../src/math/random.js'
import { residualGridScore } from '../src/measure/chart/residualGrid.js'
import { DARK, DAY, NOISY, SOFT, takeChartStill, throughJpeg } from './chartStill.js'

const perKind = Number(process.argv[2] ?? 20)
const SIZES = [2, 3, 4, 5, 7, 10, 16]
const lined = (image: GreyImage, offset: (x: number, y: number) => number): GreyImage => ({
  ...image,
  data: image.data.map((code, at) => code + offset(at % image.width, Math.floor(at / image.width))),
})
const drawn = (count: number, size: number, random: Random): number[] =>
  Array.from({ length: count }, () => size * random.normal())
const after: [string, number, (image: GreyImage, random: Random) => GreyImage][] = [
  ['as taken', 90, (image) => image],
  ['quality 60', 60, (image) => image],
  ['quality 30', 30, (image) => image],
  ['alternate rows 3 code values apart', 92, (image) => lined(image, (_x, y) => (y % 2 === 0 ? 1.5 : -1.5))],
  [
    'columns and rows with errors of 1.5 code values',
    92,
    (image, random) => {
      const [columns, rows] = [drawn(image.width, 1.5, random), drawn(image.height, 1.5, random)]
      return lined(image, (x, y) => columns[x]! + rows[y]!)
    },
  ],
]
let [stills, over] = [0, 0]
for (const condition of [DAY, NOISY, SOFT, DARK])
  for (const [name, quality, change] of after) {
    const scores: number[] = []
    for (let n = 0; n < perKind; n += 1) {
      const random = seededRandom(977 * n + 13 * quality + condition.blurSigmaPx * 1e4 + condition.noiseDn)
      const pixelsPerModule = SIZES[n % SIZES.length]! * (1 + 0.2 * random.uniform())
      const paper = CHART_PAPERS[Math.floor(random.uniform() * CHART_PAPERS.length)]!
      const turned = {
        yawDeg: 50 * random.uniform() - 25,
        pitchDeg: 16 * random.uniform() - 8,
        rollDeg: 24 * random.uniform() - 12,
      }
      const { image, truth } = await takeChartStill(
        { paper, pixelsPerModule, ...turned, wide: false, width: 420, height: 330 },
        { ...condition, jpegQuality: 101 },
        random,
      )
      const made = change(image, random)
      const seen = await throughJpeg({ left: 0, top: 0, channels: 1, ...made }, quality)
      const fit = fitChart(seen, boxTo(FRAME, truth.corners), {
        face: paper.face,
        faces: false,
        halo: true,
        unevenLight: true,
      })
      if (!fit.ok) continue
      stills += 1
      const score = residualGridScore(seen, fit.value, paper.face)
      if (score >= 24) over += 1
      scores.push(score)
    }
    scores.sort((a, b) => b - a)
    console.log(
      `${condition.name}, ${name}: ${scores
        .slice(0, 5)
        .map((score) => score.toFixed(1))
        .join(' ')}`,
    )
  }
console.log(`${stills} stills, ${over} at 24 or more`)
