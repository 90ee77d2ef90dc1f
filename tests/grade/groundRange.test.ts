import { expect, it } from 'vitest'
import { judgeWalk } from '../../src/grade/judgeWalk.js'
import { builtInGrading } from '../../src/grade/gradings/builtInGradings.js'
import type { JudgedStill, RangeResult } from '../../src/grade/judgement.js'
import { seededRandom } from '../../src/math/random.js'
import { expectNear } from '../nearly.js'
import { BOARD, simulateWalk } from './simulatedWalk.js'

const F = 1300
const DROP_M = 2.9
const GROUND_M = [4, 5, 6, 7, 9, 11]
const LIMIT = 62.5

/** A board held square to the ray gets F/s at a line of sight s: the grade ends where that is the limit. */
const TRUE_END_M = Math.sqrt((F / LIMIT) ** 2 - DROP_M ** 2)

function judged(stills: readonly JudgedStill[]): RangeResult {
  const judgement = judgeWalk({
    stills,
    lights: ['day'],
    references: ['board'],
    distanceToleranceM: 0.05,
    lensKnown: false,
    grading: builtInGrading('iec-62676-4-2014')!,
    judge: 'pixels',
    promises: [],
    observations: [],
    promisedLens: null,
  })
  return judgement.ranges.find(({ grade, basis }) => grade === 'observe' && basis === 'pixels')!
}

it('a walk taped along the ground says the same of every line of sight as one taped from the camera, and tells it along the ground', () => {
  const random = seededRandom(51)
  const covers = { ground: 0, camera: 0, withoutHeights: 0 }
  const walks = 24
  for (let walk = 0; walk < walks; walk++) {
    const { stills } = simulateWalk(
      {
        reference: BOARD,
        marksM: GROUND_M.map((groundM) => Math.hypot(groundM, DROP_M)),
        pixelsPerRadian: F,
        tapeToleranceM: 0.05,
      },
      random,
    )
    const ground = judged(stills.map((still, index) => ({ ...still, distanceM: GROUND_M[index]! })))
    const camera = judged(stills)
    for (const end of ['low', 'distance', 'high'] as const) {
      expectNear(Math.hypot(ground[end]!, DROP_M), camera[end]!, { rel: 1e-9 }, end)
    }
    const flat = judged(
      stills.map((still, index) => ({
        ...still,
        distanceM: GROUND_M[index]!,
        lineOfSightM: GROUND_M[index]!,
      })),
    )
    covers.ground += Number(ground.low! <= TRUE_END_M && TRUE_END_M <= ground.high!)
    covers.camera += Number(camera.low! <= F / LIMIT && F / LIMIT <= camera.high!)
    covers.withoutHeights += Number(flat.low! <= TRUE_END_M && TRUE_END_M <= flat.high!)
  }
  console.log(`of ${walks} walks cover: ${JSON.stringify(covers)}`)
  expect(covers.ground).toBe(covers.camera)
  expect(covers.ground / walks).toBeGreaterThan(0.8)
  expect(covers.withoutHeights / walks, 'the heights are what does it').toBeLessThan(0.2)
})
