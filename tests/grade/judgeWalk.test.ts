import { describe, expect, it } from 'vitest'
import { builtInGrading } from '../../src/grade/gradings/builtInGradings.js'
import type { WalkFinding } from '../../src/grade/judgement.js'
import { judgeWalk, type WalkToJudge } from '../../src/grade/judgeWalk.js'
import { expectNear } from '../nearly.js'
import { stillOf, type StillParts } from './stillOf.js'

const MARKS = [4, 6, 9, 12, 16, 20]
const scene = (light: string, reference: string, more: StillParts = {}): StillParts[] =>
  MARKS.map((distanceM) => ({
    light,
    reference,
    distanceM,
    horizontal: 2100 / distanceM,
    file: `stills/${light}/${distanceM}m ${reference}.png`,
    ...more,
  }))

function walkOf(parts: readonly StillParts[], more: Partial<WalkToJudge> = {}): WalkToJudge {
  return {
    stills: parts.map(stillOf),
    grading: builtInGrading('iec-62676-4-2014')!,
    judge: 'detail',
    lights: ['day', 'infrared'],
    references: ['plate', 'board'],
    promises: [],
    observations: [],
    distanceToleranceM: 0.05,
    lensKnown: false,
    promisedLens: { rectilinear: 1900, asRead: 2090 },
    ...more,
  }
}

describe('judgeWalk', () => {
  const parts = [...scene('infrared', 'board'), ...scene('day', 'board'), ...scene('day', 'plate')]

  it('tells lights and references in the walk’s order, marks ascending, whatever order the stills come in', () => {
    const judgement = judgeWalk(walkOf(parts))
    expect(judgeWalk(walkOf(parts.toReversed()))).toEqual(judgement)
    const order = judgement.marks.map(({ light, reference, distance }) => `${light} ${reference} ${distance}`)
    expect(order).toEqual(
      ['day plate', 'day board', 'infrared board'].flatMap((series) => MARKS.map((d) => `${series} ${d}`)),
    )
    expect(judgement.lens.map(({ light, reference }) => `${light} ${reference}`)).toEqual([
      'day plate',
      'day board',
      'infrared board',
    ])
    expect(judgement.ranges.slice(0, 3).map(({ grade, basis }) => `${grade} ${basis}`)).toEqual([
      'monitor pixels',
      'monitor detail',
      'detect pixels',
    ])
  })

  it('measures the lens and sets the data sheet’s reading beside it', () => {
    const [lens] = judgeWalk(walkOf(scene('day', 'board'))).lens
    expectNear(lens!.pixelsPerRadian.value, 2100, { rel: 1e-9 }, 'exact marks')
    expect(lens!.pixelsPerRadian.low).toBeGreaterThan(2050)
    expect(lens!.pixelsPerRadian.high).toBeLessThan(2150)
    expect(lens).toMatchObject({ suspect: null, promised: { rectilinear: 1900, asRead: 2090 } })
  })

  it('shows a mark left out as left out, still graded, with the distance it fits', () => {
    const wrong = scene('day', 'board').map((part) =>
      part.distanceM === 16 ? { ...part, horizontal: 2100 / 19.2 } : part,
    )
    const { marks, lens } = judgeWalk(walkOf(wrong))
    expect(marks.filter(({ leftOut }) => leftOut).map(({ distance }) => distance)).toEqual([16])
    expect(marks[4]!.why).toBe(
      'left out: judging by the other marks it was taken at 19.20 m; check the distance and the still',
    )
    expect(marks[4]!.gradeByPixels).toBe('observe')
    expect(lens[0]!.suspect!.distance).toBe(16)
    expectNear(lens[0]!.suspect!.fits, 19.2, { rel: 1e-3 })
  })

  it('gives no lens under three marks, and still the marks', () => {
    const { marks, lens, ranges } = judgeWalk(walkOf(scene('day', 'board').slice(0, 2)))
    expect(marks.length).toBe(2)
    expect(lens).toEqual([])
    expect(ranges.filter(({ basis }) => basis === 'pixels').every(({ kind }) => kind === 'too-few')).toBe(
      true,
    )
  })

  it('says at a mark what kept it back', () => {
    const { marks } = judgeWalk(
      walkOf([
        { distanceM: 4, horizontal: 525, factor: null },
        { distanceM: 6, horizontal: 350, roseK: { identify: { k: 2, U: 0.1 } } },
        { distanceM: 8, horizontal: 243, vertical: 262, facing: 262, pose: { yaw: 20, pitch: 0, roll: 0 } },
        { distanceM: 12, horizontal: 175 },
      ]),
    )
    expect(marks.map(({ why }) => why)).toEqual([
      'detail could not be measured',
      'too noisy: a stroke stands out only 2.0 times, 5 needed',
      'turned 20 degrees: held square to the camera it would reach Identify',
      '',
    ])
  })

  it('says that a badly known height decides only where it costs the mark a grade its value reaches', () => {
    const message = 'a height of 15 px, known to 9 %, decides the density: carry a board'
    const poorHeight = { verticalCornersRel: 0.04, problems: [{ code: 'height-decides', message }] }
    const { marks } = judgeWalk(
      walkOf([
        { distanceM: 12, horizontal: 180, ...poorHeight },
        { distanceM: 16, horizontal: 130, ...poorHeight },
        { distanceM: 17, horizontal: 126, ...poorHeight, factor: null },
      ]),
    )
    expect(marks.map(({ why }) => why)).toEqual(['', message, `detail could not be measured; ${message}`])
  })

  it('judges no stills at all without a fall', () => {
    const judgement = judgeWalk(walkOf([], { promises: [{ grade: 'detect', distanceM: 9, light: 'day' }] }))
    expect(judgement).toMatchObject({ marks: [], ranges: [], lens: [], findings: [] })
    expect(judgement.promises[0]!.verdict).toBe('not shown')
  })
})

describe('triggers', () => {
  it('give the farthest seen and the nearest missed, per light with such an observation', () => {
    const seen = (distanceM: number, light: string, triggered?: boolean) =>
      triggered === undefined ? { distanceM, light } : { distanceM, light, triggered }
    const observations = [
      seen(12, 'infrared', true),
      seen(18, 'infrared', true),
      seen(20, 'infrared', false),
      seen(16, 'infrared', false),
      seen(6, 'day'),
      seen(9, 'lamp', false),
    ]
    const walk = walkOf([], { observations, lights: ['day', 'lamp', 'infrared'] })
    expect(judgeWalk(walk).triggers).toEqual([
      { light: 'lamp', farthestTriggered: null, nearestNotTriggered: 9 },
      { light: 'infrared', farthestTriggered: 18, nearestNotTriggered: 16 },
    ])
  })
})

describe('findings over the marks', () => {
  const codes = (parts: StillParts[]) => judgeWalk(walkOf(parts)).findings.map(({ code }) => code)

  it('tell pixels that are not square: a ratio of the axes that is constant and not 1', () => {
    const squeezed = MARKS.map((d) => ({ distanceM: d, horizontal: 2100 / d, vertical: 1910 / d }))
    const { findings } = judgeWalk(walkOf(squeezed))
    const [{ value, low, high, ...said }] = findings as [Required<WalkFinding>]
    expect(findings.length).toBe(1)
    expect(said).toEqual({
      code: 'pixels-not-square',
      light: null,
      reference: null,
      message:
        'density across is 9.95 (9.19 to 10.71) % more than upright at every mark. The exported pixels are not square, the sides of the reference are not as entered, or it was always held turned alike',
    })
    expectNear(value, 2100 / 1910 - 1, { rel: 1e-3 })
    expect([low < value, value < high]).toEqual([true, true])
  })

  it('tell nothing of a height that shortens towards the camera, of square pixels, or of two marks', () => {
    const pitched = MARKS.map((d) => ({
      distanceM: d,
      horizontal: 2100 / d,
      vertical: (2100 / d) * Math.cos(Math.asin(1.8 / d)),
    }))
    expect(codes(pitched)).toEqual([])
    expect(codes(scene('day', 'board'))).toEqual([])
    expect(
      codes(
        scene('day', 'board', {})
          .slice(0, 2)
          .map((part) => ({ ...part, vertical: 100 })),
      ),
    ).toEqual([])
  })

  it('tell one line for all the marks two lights share', () => {
    const parts = [9, 12].flatMap((distanceM) => [
      { light: 'day', distanceM, f10: 0.42 },
      { light: 'infrared', distanceM, f10: distanceM === 9 ? 0.41 : 0.4 },
    ])
    const { findings } = judgeWalk(walkOf(parts))
    expect(findings.filter(({ code }) => code !== 'detail-bound')).toEqual([
      {
        code: 'infrared-focus',
        message:
          'board: fine detail (f10, the frequency at which contrast falls to 10 %) is 0.41 cycles per pixel under infrared against 0.42 by day at the 9 m mark, 0.40 against 0.42 at the 12 m mark',
      },
    ])
  })

  it('name marks that show the same figures together', () => {
    const parts = [4, 6, 9].flatMap((distanceM) => [
      { light: 'day', distanceM, f10: 0.51 },
      { light: 'infrared', distanceM, f10: 0.38 },
    ])
    expect(judgeWalk(walkOf(parts)).findings[0]!.message).toMatch(
      / is 0\.38 cycles per pixel under infrared against 0\.51 by day at the 4, 6 and 9 m marks. The lens may/,
    )
  })

  it('tell nothing of a ratio that only near marks show: the camera looks down on them', () => {
    const lookedDownOn = MARKS.map((d, index) => ({
      distanceM: d,
      horizontal: 2100 / d,
      vertical: (2100 / d) * (index < MARKS.length / 2 ? 0.96 : 0.985),
    }))
    expect(codes(lookedDownOn)).toEqual([])
  })

  it('set f10 by day beside f10 under infrared, and of standing beside walking', () => {
    const parts = [
      { light: 'day', distanceM: 12, f10: 0.42 },
      { light: 'infrared', distanceM: 12, f10: 0.3 },
      { light: 'infrared-walking', distanceM: 12, f10: 0.29 },
    ]
    const { findings } = judgeWalk(walkOf(parts))
    expect(findings.filter(({ code }) => code !== 'detail-bound')).toEqual([
      {
        code: 'infrared-focus',
        message:
          'board: fine detail (f10, the frequency at which contrast falls to 10 %) is 0.30 cycles per pixel under infrared against 0.42 by day at the 12 m mark. The lens may focus elsewhere under infrared',
      },
      {
        code: 'walking-blur',
        message:
          'board: fine detail (f10, the frequency at which contrast falls to 10 %) is 0.29 cycles per pixel in infrared-walking against 0.30 under infrared at the 12 m mark',
      },
    ])
  })

  it('tell once per light and cause that detail is an upper bound, and at which marks where not at all', () => {
    const signs = [{ code: 'lifted', message: '' }]
    const parts = [4, 6, 9].flatMap((distanceM) => [
      { light: 'day', distanceM, problems: distanceM === 4 ? [] : signs },
      { light: 'infrared', distanceM, problems: distanceM === 4 ? [] : signs },
    ])
    const bounds = (walk: ReturnType<typeof walkOf>) =>
      judgeWalk(walk).findings.flatMap(({ code, light, message }) =>
        code === 'detail-bound' ? [`${light} | ${message.split('; ')[0]}`] : [],
      )
    expect(bounds(walkOf(parts))).toEqual([
      'day | day, at 6 and 9 m: detail is an upper bound, because the still shows signs of processing',
      'infrared | infrared: detail is an upper bound, because noise reduction at night may remove detail that strong edges still show',
    ])
    expect(
      judgeWalk(walkOf(parts))
        .marks.map(({ why }) => why)
        .join(''),
    ).toBe('')
    expect(bounds({ ...walkOf(parts), judge: 'pixels' })).toEqual([])
    // Beside a reference whose detail is none, the one that is meant is named.
    const beside = [{ light: 'day', distanceM: 4, reference: 'plate', problems: signs }]
    expect(bounds(walkOf([...parts.slice(0, 1), ...beside]))).toEqual([
      'day | day, plate at 4 m: detail is an upper bound, because the still shows signs of processing',
    ])
  })
})
