import { describe, expect, it } from 'vitest'
import { builtInGrading } from '../../../src/grade/gradings/builtInGradings.js'
import type { WalkJudgement } from '../../../src/grade/judgement.js'
import { judgeWalk, type WalkToJudge } from '../../../src/grade/judgeWalk.js'
import { seededRandom } from '../../../src/math/random.js'
import { stillOf, type StillParts } from '../stillOf.js'
import { draws } from '../../draws.js'

// What an earlier judging said that no still had shown, each as it was found.

const grading = builtInGrading('iec-62676-4-2014')!

function judged(parts: readonly StillParts[], more: Partial<WalkToJudge>): WalkJudgement {
  return judgeWalk({
    stills: parts.map(stillOf),
    grading,
    judge: 'detail',
    lights: ['day', 'infrared'],
    references: ['board', 'plate', 'chart'],
    promises: [],
    observations: [],
    distanceToleranceM: 0.05,
    lensKnown: false,
    promisedLens: null,
    ...more,
  })
}

describe('the first case: a promise at a mark and one beside it', () => {
  it('are answered by one rule, so that they agree, and not each by a still as if its tape were exact', () => {
    const marks = [3, 4.5, 6, 8, 10].map((d) => ({
      distanceM: d,
      // The tape of the nearest mark is 5 cm short: alone it reads 1.7 % low.
      horizontal: 1150 / (d + (d === 3 ? 0.05 : 0)),
      cornersRel: 0.001,
      factorU: 0,
    }))
    const promises = [3, 3.2].map((distanceM) => ({ grade: 'identify', distanceM, light: 'day' }))
    const [at, beside] = judged(marks, { promises, judge: 'pixels' }).promises
    expect(at!.value! * 3).toBeCloseTo(beside!.value! * 3.2, 6)
    expect(at!.low).toBeLessThan(1150 / 3)
    expect(at!.high).toBeGreaterThan(1150 / 3)
    expect(judged(marks, {}).marks[0]!.density.value, 'its own row says what was held there').toBeCloseTo(
      1150 / 3.05,
      9,
    )
  })
})

describe('the second case: a promise nearer than every mark, under the camera’s own lamp', () => {
  const plates = [6, 8, 10, 13].map((d) => ({
    light: 'infrared',
    reference: 'plate',
    distanceM: d,
    horizontal: 1150 / d,
    factorU: 0,
  }))
  const promises = [{ grade: 'recognise', distanceM: 3, light: 'infrared' }]

  it('is not shown, and the walk that would show it is named', () => {
    for (const judge of ['pixels', 'detail'] as const) {
      expect(judged(plates, { promises, judge }).promises[0]).toMatchObject({
        verdict: 'not shown',
        byPixels: 'not shown',
        why: expect.stringMatching(/nearer than the nearest usable mark, 6 m$/),
        mend: 'walk 3 m',
      })
    }
  })

  it('and not met once a still there shows it all at white', () => {
    const message = 'washed out: 97 % of it is pure white, contrast 2 %'
    const white = { tone: null, factor: null, problems: [{ code: 'washed-out', message }] }
    const glare = { ...plates[0]!, distanceM: 3, horizontal: 1150 / 3, ...white }
    expect(judged([glare, ...plates], { promises }).promises[0]!.verdict).toBe('not met')
  })
})

describe('the third case: blur fails a promise, and the boards were turned a little', () => {
  const blurred = [4, 6, 9, 12].map((d) => ({
    distanceM: d,
    horizontal: (0.99 * 2000) / d,
    facing: 2000 / d,
    pose: { yaw: 8, pitch: 0, roll: 0 },
    factor: 0.6,
  }))

  it.each([
    [7, 'met'],
    [10.5, 'not met'],
    [14, 'not met'],
  ])('at %d m it is %s, and not softened to how they were held', (distanceM, verdict) => {
    const promises = [{ grade: 'recognise', distanceM, light: 'day' }]
    const [promise] = judged(blurred, { promises }).promises
    expect(promise).toMatchObject({ verdict, byPixels: distanceM < 12 ? 'met' : 'not shown' })
    expect(promise!.why).not.toContain('turned')
  })
})

describe('the fourth case: ranges beside promises', () => {
  it('say no distance with detail that no mark stands at, and by pixels at most twice the farthest', () => {
    const { ranges } = judged(
      [3, 5, 7, 9].map((d) => ({ distanceM: d, horizontal: 1150 / d, factorU: 0.01 })),
      {},
    )
    for (const { basis, distance, low, high } of ranges) {
      const most = basis === 'detail' ? 9 : 18
      for (const each of [distance, low, high]) if (each !== null) expect(each).toBeLessThanOrEqual(most)
    }
  })

  it('tell what one mark shows where there is only one, and do not call it shown nowhere', () => {
    const chart = [{ light: 'day', reference: 'chart', distanceM: 6, horizontal: 160 }]
    const { ranges, marks } = judged(chart, {})
    expect(marks[0]!.grade).toBe('recognise')
    const recognise = ranges.filter(({ grade }) => grade === 'recognise')
    expect(recognise.map(({ kind, low }) => [kind, low])).toEqual([
      ['too-few', 6],
      ['too-few', 6],
    ])
  })

  it('never contradict a promise, nor a grade with detail one by pixels, in drawn walks', () => {
    const random = seededRandom(5)
    const rank = (grade: string | null): number => grading.grades.findIndex(({ id }) => id === grade)
    let decided = 0
    for (let walk = 0; walk < draws(200); walk++) {
      const F = 600 + 2500 * random.uniform()
      const alike = random.uniform() < 0.5
      const sharp = 0.4 + 0.6 * random.uniform()
      const stills = [2, 3, 4.5, 6, 8, 10, 13]
        .filter(() => random.uniform() < 0.7)
        .map((distanceM): StillParts => {
          const horizontal = (F / distanceM) * Math.exp(0.02 * random.normal())
          return {
            distanceM,
            horizontal,
            vertical: horizontal * Math.exp(0.02 * random.normal()),
            cornersRel: 0.002 + 0.02 * random.uniform(),
            factor: alike ? sharp : 0.4 + 0.6 * random.uniform(),
            factorU: 0.01 + 0.1 * random.uniform(),
          }
        })
      const promises = grading.grades.flatMap(({ id }) =>
        [1.5, 2, 3.3, 4.5, 7, 12, 13, 20].map((distanceM) => ({ grade: id, distanceM, light: 'day' })),
      )
      for (const judge of ['pixels', 'detail'] as const) {
        const { ranges, promises: answered, marks } = judged(stills, { promises, judge })
        for (const { grade, gradeByPixels } of marks) {
          if (judge === 'detail') expect(rank(grade)).toBeLessThanOrEqual(rank(gradeByPixels))
        }
        for (const promise of answered) {
          const range = ranges.find(({ grade, basis }) => grade === promise.grade && basis === judge)
          if (promise.verdict === 'met') expect(promise.byPixels, promise.why).toBe('met')
          if (promise.byPixels === 'not met') expect(promise.verdict, promise.why).toBe('not met')
          if (promise.verdict === 'not shown' || range === undefined) continue
          decided += 1
          const told = `${JSON.stringify(range)} ${JSON.stringify(promise)}`
          if (promise.verdict === 'met' && range.high !== null) {
            expect(promise.distance, told).toBeLessThanOrEqual(range.high)
          }
          if (promise.verdict === 'not met' && range.low !== null && range.from === null) {
            expect(promise.distance, told).toBeGreaterThanOrEqual(range.low)
          }
        }
      }
    }
    expect(decided).toBeGreaterThan(5000)
  })
})
