import { frameCorners } from '../src/chart/match/chartCandidate.js'
import { searchChart } from '../src/chart/find/searchChart.js'
import { searchPicture } from '../src/chart/find/searchPicture.js'
import { moduleM } from '../src/chart/printed/chartGeometry.js'
import { chartPaper } from '../src/chart/printed/chartPapers.js'
import { drawCards, PUBLISHED_SIZE } from '../src/chart/printed/letterSheet.js'
import { seededRandom } from '../src/math/random.js'
import { codeRegion, planeUnder, readCard } from '../src/measure/letters/readCard.js'
import { letterSurface } from '../src/simulate/walker/letterSurface.js'
import { coded, renderStrips, sense } from '../tests/support/stripStill.js'

// Whether letter cards are told as far out as the chart they hang under is found: painted stills with noise, turned and fixed by hand. Of stills in which the chart is found,
// how many tell their card, none, or another. Arguments: stills of each size and light [40], one light.

const stills = Number(process.argv[2] ?? 40)
const only = process.argv[3]
const PAPER = chartPaper('A2')!
const CARDS = drawCards(40, seededRandom(3))
const NUMBERS = CARDS.map(({ number }) => number)
const LIGHTS = [
  { name: 'day', sensor: { electrons: 2000, gain: 1.1 }, blurSigmaPx: 0.6 },
  { name: 'soft day', sensor: { electrons: 2000, gain: 1.1 }, blurSigmaPx: 0.9 },
  { name: 'dark', sensor: { electrons: 120, gain: 1.1 }, blurSigmaPx: 0.8 },
] as const
const SIZES = [1.5, 2, 2.5, 3, 5]

console.log('letter cards under the chart, of stills in which the chart is found')
console.log('light       px a module   stills   chart found   card told   none   another')
for (const { name, sensor, blurSigmaPx } of LIGHTS) {
  if (only !== undefined && only !== name) continue
  for (const pxPerModule of SIZES) {
    let [found, told, none] = [0, 0, 0]
    for (let nth = 0; nth < stills; nth += 1) {
      const random = seededRandom(1000 * pxPerModule + nth)
      const card = CARDS[nth % CARDS.length]!
      const { light } = renderStrips({
        paper: PAPER,
        pxPerM: pxPerModule / moduleM(PAPER),
        blurSigmaPx,
        yawRad: 0.15 * random.normal(),
        pitchRad: 0.08 * random.normal(),
        withStrips: true,
        surface: letterSurface(PAPER, PUBLISHED_SIZE, card),
        taped: {
          rightM: 0.006 * random.normal(),
          downM: 0.002 + 0.006 * random.uniform(),
          turnRad: 0.005 * random.normal(),
        },
        asidePx: random.uniform(),
      })
      const picture = searchPicture(coded(sense(light, { ...sensor, seed: nth })))
      const chart = searchChart(picture)
      if (!chart.ok) continue
      found += 1
      const plane = planeUnder(PAPER, frameCorners(chart.value.map))
      const around = plane && codeRegion(plane)
      const seen = around && readCard(picture.lumaRegion(around), plane, NUMBERS)
      if (seen === null) none += 1
      else if (seen.number === card.number) told += 1
    }
    const column = (value: number, width: number): string => String(value).padStart(width)
    console.log(
      `${name.padEnd(12)}${column(pxPerModule, 11)}${column(stills, 9)}${column(found, 14)}${column(told, 12)}${column(none, 7)}${column(found - told - none, 10)}`,
    )
  }
}
