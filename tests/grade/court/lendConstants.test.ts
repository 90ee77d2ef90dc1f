import { describe, expect, test } from 'vitest'
import { builtInGrading } from '../../../src/grade/gradings/builtInGradings.js'
import type { WalkJudgement } from '../../../src/grade/judgement.js'
import { judgeWalk } from '../../../src/grade/judgeWalk.js'
import type { Scene, SceneLight } from '../../../src/scene/scene.js'
import { expectNear } from '../../nearly.js'
import { stillOf, type StillParts } from '../stillOf.js'

const GRADING = builtInGrading('iec-62676-4-2014')!
const F = { day: 2100, infrared: 2100 * 1.0005 }
const MARKS_M = { day: [4, 6, 9, 12, 16, 20], infrared: [4, 5, 6] }
type Light = keyof typeof F

function parts(light: Light, from = F[light]): StillParts[] {
  return MARKS_M[light].map((distanceM) => ({
    light,
    reference: 'board',
    distanceM,
    horizontal: from / distanceM,
    file: `stills/${light}/${distanceM}m.png`,
  }))
}

const STILL = { turn: null, shift: { x: 0, y: 0 }, matches: 200 }
const U = { turn: 0, shift: 0.3, scale: 0.0008 }
const PAIR: SceneLight = { light: 'infrared', against: 'day', ...STILL, scale: 1.0005, u: U }

function sceneOf(pair: SceneLight | null, moved: string | null = null): Scene {
  const stills = (['day', 'infrared'] as const).flatMap((light) => parts(light))
  return {
    stills: stills.map(({ file }) => {
      const group = file === moved ? 1 : 0
      return { file: file!, group, ...STILL, shift: { x: 9 * group, y: 0 }, scale: 1, u: U }
    }),
    lights: pair === null ? [] : [pair],
  }
}

function judged(registered: Scene | null, infrared = F.infrared): WalkJudgement {
  return judgeWalk({
    stills: [...parts('day'), ...parts('infrared', infrared)].map(stillOf),
    grading: GRADING,
    judge: 'pixels',
    lights: ['day', 'infrared'],
    references: ['board'],
    promises: [{ grade: 'recognise', distanceM: 5, light: 'infrared' }],
    observations: [],
    distanceToleranceM: 0.05,
    lensKnown: false,
    promisedLens: null as never,
    registered,
  })
}

const rangeOf = ({ ranges }: WalkJudgement, light: Light) =>
  ranges.find((one) => one.light === light && one.basis === 'pixels' && one.grade === 'identify')!
const isLent = (judgement: WalkJudgement): boolean =>
  judgement.ranges.some(({ lentBy }) => lentBy !== undefined) ||
  judgement.findings.some(({ code }) => code === 'constant-lent') ||
  /by the marks of/.test(judgement.promises[0]!.why)

describe('a light that another lends its constant', () => {
  test("has narrower ranges about the lender's constant at its own scale, and says whose they are", () => {
    const [own, lent] = [judged(sceneOf(null)), judged(sceneOf(PAIR))]
    const [before, after] = [rangeOf(own, 'infrared'), rangeOf(lent, 'infrared')]
    expect([before.lentBy, after.lentBy]).toEqual([undefined, 'day'])
    expect(after.high! - after.low!).toBeLessThan(0.7 * (before.high! - before.low!))
    expectNear(after.distance! / rangeOf(lent, 'day').distance!, 1.0005, { rel: 1e-6 }, 'the scale between')
    expect(rangeOf(lent, 'day')).toEqual(rangeOf(own, 'day'))
    expect(lent.promises[0]!.why).toContain('at the 5 m mark, by the marks of day')
    const [finding] = lent.findings.filter(({ code }) => code === 'constant-lent')
    expect(finding).toMatchObject({ light: 'infrared', reference: 'board' })
    expect(finding!.message).toMatch(
      /^infrared, board: how far grades hold rests on the marks of day.*within 0\.13 %/,
    )
    expect(isLent(own)).toBe(false)
  })

  test.each<[string, Scene | null]>([
    ['nobody looked', null],
    ['its size is not surely the same', sceneOf({ ...PAIR, u: { ...U, scale: 0.003 } })],
    ['the camera was turned between the lights', sceneOf({ ...PAIR, shift: { x: 1, y: 0 } })],
    ['the camera was knocked within a light', sceneOf(PAIR, 'stills/day/9m.png')],
    ['a still is not told', { ...sceneOf(PAIR), stills: sceneOf(PAIR).stills.slice(1) }],
  ])('keeps its own where %s', (_, scene) => {
    expect(isLent(judged(scene))).toBe(false)
  })

  test("keeps its own where its marks contradict the other's", () => {
    expect(isLent(judged(sceneOf(PAIR), 1.06 * F.infrared))).toBe(false)
  })
})
