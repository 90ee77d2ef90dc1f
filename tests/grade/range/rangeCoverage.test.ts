import { describe, expect, it } from 'vitest'
import { combineRepeats } from '../../../src/grade/marks/combineRepeats.js'
import { fitOfMarks } from '../fitOfMarks.js'
import { lensResult } from '../../../src/grade/lensResult.js'
import type { RangeFit } from '../../../src/grade/range/rangeFit.js'
import { rangeOnLine } from '../../../src/grade/range/rangeOnLine.js'
import { seededRandom } from '../../../src/math/random.js'
import { draws } from '../../draws.js'
import { BOARD, PLATE, simulateWalk, type SimulatedWalk, type WalkScene } from '../simulatedWalk.js'

// Stated 95 % intervals are to cover 93 to 99.5 times in 100, the tape begun up to 0.2 m off (rectangular); these walks measure it, the numbers are printed.
const WALKS = draws(600)
const WRONG_WALKS = draws(100)
const LIMITS = [62.5, 125, 250, 500, 1000]

const SERIES = { light: 'day', reference: 'board', marks: [] }

const board: WalkScene = {
  reference: BOARD,
  marksM: [4, 6, 9, 12, 16, 20],
  pixelsPerRadian: 2200,
  tapeToleranceM: 0.05,
  startM: 0.2,
}
const plate: WalkScene = {
  reference: PLATE,
  marksM: [3, 4, 5, 6, 8, 10],
  pixelsPerRadian: 2200,
  tapeToleranceM: 0.05,
  startM: 0.2,
}
const fromAbove: WalkScene = { ...board, dropM: 1.5 }
const scenes: [name: string, scene: WalkScene, seed: number][] = [
  ['boards to 20 m', board, 1],
  ['plates to 10 m', plate, 2],
  ['boards held upright under a camera 1.5 m above them', fromAbove, 3],
]

function fitOf({ stills }: SimulatedWalk, scene: WalkScene): RangeFit {
  const fit = fitOfMarks(combineRepeats(stills), {
    distanceToleranceM: scene.tapeToleranceM,
    lensKnown: false,
  })
  if (fit === null) throw new Error('no mark')
  return fit
}

/** How far from the camera a reference held square to it falls to the limit, however this walk's were held and taped. */
function trueRangeM({ pixelsPerRadian }: WalkScene, limit: number): number {
  return pixelsPerRadian / limit
}

describe('the range interval', () => {
  it.each(scenes)('covers the truth 93 to 99.5 times in 100: %s', (name, scene, seed) => {
    const random = seededRandom(seed)
    const nearM = 0.7 * scene.marksM[0]!
    const farM = 1.3 * scene.marksM.at(-1)!
    const judged = LIMITS.filter((limit) => {
      const truthM = trueRangeM(scene, limit)
      return truthM > nearM && truthM < farM
    })
    const covered = new Map(judged.map((limit) => [limit, 0]))
    const widths = new Map(judged.map((limit) => [limit, 0]))
    let lost = 0
    let lensCovered = 0
    for (let walk = 0; walk < WALKS; walk++) {
      const simulated = simulateWalk(scene, random)
      const fit = fitOf(simulated, scene)
      if (fit.suspect !== null) lost += 1
      const { low, high } = lensResult({ ...SERIES, fit }, null)!.pixelsPerRadian
      if (low <= scene.pixelsPerRadian && scene.pixelsPerRadian <= high) lensCovered += 1
      for (const limit of judged) {
        const truthM = trueRangeM(scene, limit)
        const range = rangeOnLine(fit, limit)
        if (range.low <= truthM && truthM <= range.high) covered.set(limit, covered.get(limit)! + 1)
        widths.set(limit, widths.get(limit)! + (range.high - range.low) / 2 / truthM)
      }
    }
    for (const limit of judged) {
      const share = covered.get(limit)! / WALKS
      const halfWidth = (100 * widths.get(limit)!) / WALKS
      console.log(
        `${name}, ${limit} px/m: ${(100 * share).toFixed(1)} % covered, +/- ${halfWidth.toFixed(1)} % wide`,
      )
      expect(share, `${limit} px/m`).toBeGreaterThanOrEqual(0.93)
      expect(share, `${limit} px/m`).toBeLessThanOrEqual(0.995)
    }
    console.log(`${name}: a good walk lost a mark in ${((100 * lost) / WALKS).toFixed(1)} of 100`)
    console.log(`${name}, the lens: ${((100 * lensCovered) / WALKS).toFixed(1)} % covered`)
    expect(lensCovered / WALKS).toBeGreaterThanOrEqual(0.93)
    expect(lensCovered / WALKS).toBeLessThanOrEqual(0.995)
    expect(judged.length).toBeGreaterThanOrEqual(2)
    expect(lost / WALKS).toBeLessThan(0.02)
  })
})

describe('a tape wrong by 15 %', () => {
  const positions = scenes
    .slice(0, 2)
    .flatMap(([name, scene]) => scene.marksM.map((markM, index) => ({ name, scene, markM, index })))

  it.each(positions)('is named at the $markM m mark of $name', ({ name, scene, markM, index }) => {
    const random = seededRandom(100 + index)
    let named = 0
    let other = 0
    for (let walk = 0; walk < WRONG_WALKS; walk++) {
      const ratio = walk % 2 === 0 ? 1.15 : 1 / 1.15
      const { suspect } = fitOf(simulateWalk({ ...scene, wrong: { index, ratio } }, random), scene)
      if (suspect === null) continue
      if (suspect.mark.distanceM !== markM) other += 1
      // The distance it fits is the true one, within the tape's own tolerance and the fit's.
      else if (Math.abs(suspect.fitsM.value / (markM * ratio) - 1) < 0.06) named += 1
    }
    console.log(
      `${name}, ${markM} m wrong: named in ${((100 * named) / WRONG_WALKS).toFixed(1)} of 100, another in ${((100 * other) / WRONG_WALKS).toFixed(1)}`,
    )
    expect(named / WRONG_WALKS).toBeGreaterThanOrEqual(0.9)
    expect(other / WRONG_WALKS).toBeLessThan(0.02)
  })
})
