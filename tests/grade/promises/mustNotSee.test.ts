import { describe, expect, it } from 'vitest'
import { builtInGrading } from '../../../src/grade/gradings/builtInGradings.js'
import type { PromiseResult } from '../../../src/grade/judgement.js'
import { judgeWalk } from '../../../src/grade/judgeWalk.js'
import { greatestShare } from '../../../src/lens/greatestShare.js'
import { stillOf, type StillParts } from '../stillOf.js'

/** Half the diagonal of the stills of `stillOf`, px. */
const CORNER_PX = Math.hypot(3840, 2160) / 2

const exactly = (p: number) => ({ value: p, low: p, high: p })

/** "Below Observe (62.5 px/m)" judged at a distance by marks of F px per radian. */
function judged(
  marksM: readonly number[],
  F: number,
  distanceM: number,
  projection: ReturnType<typeof exactly> | null,
  more: StillParts = {},
  references: readonly string[] = ['board'],
  trueM: (markM: number) => number = (markM) => markM,
): PromiseResult {
  const [promise] = judgeWalk({
    stills: references.flatMap((reference) =>
      marksM.map((markM) => stillOf({ distanceM: markM, horizontal: F / trueM(markM), reference, ...more })),
    ),
    grading: builtInGrading('iec-62676-4-2014')!,
    judge: 'detail',
    lights: ['day'],
    references,
    promises: [{ grade: 'observe', light: 'day', distanceM, kind: 'most', what: 'a window' }],
    observations: [],
    distanceToleranceM: 0.05,
    lensKnown: projection !== null,
    promisedLens: null,
    projection,
  }).promises
  return promise!
}

describe('a grade that must not be reached', () => {
  it('is held against the greatest density anywhere in the picture: in the corner of a lens that keeps straight lines straight 1 + (r/F)^2 of the middle', () => {
    expect(greatestShare(1, 1.5)).toBeCloseTo(1 + 1.5 ** 2, 9)
    // Equidistant: t / sin t across the radius, 1 along it.
    expect(greatestShare(0, 1.5)).toBeCloseTo(1.5 / Math.sin(1.5), 9)
    expect(greatestShare(-1, 0.9)).toBe(1)
    const F = 2000
    const { value, low, high, ...rest } = judged([4, 8, 12], F, 90, exactly(1))
    expect(value! / (F / 90)).toBeCloseTo(1 + (CORNER_PX / F) ** 2, 3)
    expect(rest).toMatchObject({
      kind: 'most',
      basis: 'pixels',
      verdict: 'met',
      limit: 62.5,
      what: 'a window',
    })
    expect([low! < value!, value! < high!, high! < 62.5]).toEqual([true, true, true])
  })

  it('is not met where even the lower end reaches the limit, wherever stills stand', () => {
    expect(judged([4, 8, 12], 2000, 25, null)).toMatchObject({ verdict: 'not met', byPixels: 'not met' })
    expect(judged([40, 80], 2000, 25, null).verdict).toBe('not met')
  })

  it('has the lower end of all references of the light together, and the upper end of its own', () => {
    const [alone, both] = [['board'], ['board', 'plate']].map((references) =>
      judged([4, 8, 12], 2000, 25, null, {}, references),
    )
    // The normal distribution's 98.75 and 97.5 % points, by any table: 2.2414 and 1.9600.
    const downward = ({ low }: PromiseResult): number => Math.log(low! / (2000 / 25))
    expect(downward(both!) / downward(alone!)).toBeCloseTo(2.2414 / 1.96, 3)
    expect(both!.high).toBeCloseTo(alone!.high!, 9)
  })

  it('is undecided by whatever lens where the middle stays below the limit and the corner may not', () => {
    const unknown = judged([4, 8, 12], 800, 20, null)
    expect(unknown).toMatchObject({ verdict: 'not shown' })
    expect(unknown.why).toMatch(/ whatever the lens: whether it is below 62.5 is not shown$/)
    expect(judged([4, 8, 12], 800, 20, exactly(-1))).toMatchObject({ verdict: 'met' })
  })

  it('needs a still there or nearer, usable or not', () => {
    const known = exactly(-1)
    expect(judged([4, 8, 12], 150, 3, known)).toMatchObject({
      verdict: 'not shown',
      why: 'no still was measured at 3 m or nearer',
      mend: 'walk 3 m',
    })
    expect(judged([3, 8, 12], 150, 3, known).verdict).toBe('met')
    expect(judged([3, 8, 12], 150, 3, known, { roseK: { observe: { k: 1, U: 0.1 } } }).verdict).toBe('met')
  })

  it('needs that still at a mark whose tape fits the others', () => {
    const known = exactly(-1)
    // The 3 m mark shows what lies at 3.6 m: it is left out, and shows nothing of 3 m.
    const wrong = (markM: number): number => (markM === 3 ? 3.6 : markM)
    const marksM = [3, 4, 6, 8, 12]
    expect(judged(marksM, 150, 3, known).verdict).toBe('met')
    expect(judged(marksM, 150, 3, known, {}, ['board'], wrong)).toMatchObject({ verdict: 'not shown' })
  })
})
