import { describe, expect, it } from 'vitest'
import { frameCorners } from '../../../src/chart/match/chartCandidate.js'
import type { GreyImage } from '../../../src/chart/match/greyImage.js'
import { searchChart } from '../../../src/chart/find/searchChart.js'
import { searchPicture } from '../../../src/chart/find/searchPicture.js'
import { moduleM } from '../../../src/chart/printed/chartGeometry.js'
import { chartPaper } from '../../../src/chart/printed/chartPapers.js'
import { drawCards, PUBLISHED_SIZE } from '../../../src/chart/printed/letterSheet.js'
import { seededRandom } from '../../../src/math/random.js'
import { codeRegion, planeUnder, readCard } from '../../../src/measure/letters/readCard.js'
import { letterSurface } from '../../../src/simulate/walker/letterSurface.js'
import { coded, renderStrips, sense } from '../../support/stripStill.js'

const paper = chartPaper('A2')!
const cards = drawCards(40, seededRandom(3))
const numbers = cards.map(({ number }) => number)
const DAY = { electrons: 2000, gain: 1.1 }

function still(number: number, pxPerModule: number, turn = 0, withStrips = true): GreyImage {
  const scene = {
    paper,
    pxPerM: pxPerModule / moduleM(paper),
    blurSigmaPx: 0.6,
    yawRad: turn,
    pitchRad: turn / 2,
    withStrips,
    surface: letterSurface(paper, PUBLISHED_SIZE, cards[number - 1]!),
    taped: { rightM: 0.008, downM: 0.006, turnRad: 0.008 },
    asidePx: number / 40,
  }
  return coded(sense(renderStrips(scene).light, { ...DAY, seed: number }))
}

function cardIn(image: GreyImage) {
  const picture = searchPicture(image)
  const found = searchChart(picture)
  if (!found.ok) return found.code
  const plane = planeUnder(paper, frameCorners(found.value.map))!
  const region = codeRegion(plane)!
  return readCard(picture.lumaRegion(region), plane, numbers)?.number ?? 'no card'
}

describe('the code of a letter card', () => {
  it.each([2, 3, 6])('is read at %d px a module by day, whatever the card', (px) => {
    for (const number of [1, 7, 12, 23, 31, 40]) expect(cardIn(still(number, px))).toBe(number)
  })

  it('is read where the chart is found at all, at 1.5 px a module', () => {
    for (const number of [2, 9, 17, 28, 36]) expect(cardIn(still(number, 1.5))).toBe(number)
  })

  it('is read turned by 25 degrees', () => {
    for (const number of [4, 19]) expect(cardIn(still(number, 3, 0.44))).toBe(number)
  })

  it('is not read off a wall, nor off a card that is none of these', () => {
    expect(cardIn(still(5, 3, 0, false))).toBe('no card')
    const picture = still(5, 3)
    const found = searchChart(searchPicture(picture))
    if (!found.ok) throw new Error(found.code)
    const plane = planeUnder(paper, found.value.corners)!
    const raster = { left: 0, top: 0, ...picture, data: Float32Array.from(picture.data) }
    const seen = readCard(
      raster,
      plane,
      numbers.filter((one) => one !== 5),
    )
    expect(seen?.number ?? null).toBeNull()
  })
})
