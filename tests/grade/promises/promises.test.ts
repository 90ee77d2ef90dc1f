import { describe, expect, it } from 'vitest'
import { builtInGrading } from '../../../src/grade/gradings/builtInGradings.js'
import type { GradePromise, PromiseResult } from '../../../src/grade/judgement.js'
import { judgeWalk, type WalkToJudge } from '../../../src/grade/judgeWalk.js'
import { expectNear } from '../../nearly.js'
import { stillOf, type StillParts } from '../stillOf.js'

const MARKS = [4, 6, 9, 12, 16, 20]
const RECOGNISE = 125

function judged(
  parts: readonly StillParts[],
  promise: Partial<GradePromise> & { distanceM: number },
  more: Partial<WalkToJudge> = {},
): PromiseResult {
  const walk: WalkToJudge = {
    stills: parts.map(stillOf),
    grading: builtInGrading('iec-62676-4-2014')!,
    judge: 'detail',
    lights: ['day', 'infrared'],
    references: ['board', 'plate'],
    promises: [{ grade: 'recognise', light: 'day', ...promise }],
    observations: [],
    distanceToleranceM: 0.05,
    lensKnown: false,
    promisedLens: null,
    ...more,
  }
  return judgeWalk(walk).promises[0]!
}
const at = (distanceM: number, density: number, more: StillParts = {}): StillParts => ({
  distanceM,
  horizontal: density,
  factorU: 0,
  ...more,
})
const walked = MARKS.map((d) => at(d, 2100 / d))

describe('a promise with a mark at its distance', () => {
  it('is met, not met or not shown by that mark’s interval', () => {
    expect(judged([at(16, 130)], { distanceM: 16 })).toMatchObject({
      verdict: 'met',
      byPixels: 'met',
      value: expect.closeTo(130, 9),
      limit: RECOGNISE,
      basis: 'detail',
      why: '126.5 to 133.6 px/m with detail at the 16 m mark, 125 needed',
    })
    expect(judged([at(16, 120)], { distanceM: 16 })).toMatchObject({
      verdict: 'not met',
      byPixels: 'not met',
    })
    expect(judged([at(16, 125.5)], { distanceM: 16 })).toMatchObject({
      verdict: 'not shown',
      why: '122.1 to 129.0 px/m with detail at the 16 m mark. The limit, 125, lies inside that interval',
      mend: 'walk more marks, near and far. The largest part of the interval (85 %) is where the tape measure starts',
    })
  })

  it('is never met by detail that is an upper bound: in other lights than day, and behind signs of processing', () => {
    const night = { light: 'infrared' }
    const stills = [at(16, 140, night), at(12, 190, night)]
    expect(judged(stills, { distanceM: 16, ...night })).toMatchObject({
      verdict: 'not shown',
      byPixels: 'met',
      value: expect.closeTo(139.18, 2),
      low: null,
      high: expect.closeTo(143, -1),
      why: expect.stringMatching(
        /^up to 14\d\.\d px\/m with detail at the 16 m mark, 125 needed. It may be less, because noise reduction at night may remove .*still show$/,
      ),
    })
    expect(judged(stills, { distanceM: 16, ...night }, { judge: 'pixels' })).toMatchObject({
      verdict: 'met',
      onOtherBasis: { low: null },
    })
    expect(judged([at(16, 110, night)], { distanceM: 16, ...night })).toMatchObject({ verdict: 'not met' })
    const problems = [{ code: 'sharpened', message: 'sharpened' }]
    expect(judged([at(16, 140, { problems })], { distanceM: 16 })).toMatchObject({
      verdict: 'not shown',
      byPixels: 'met',
      why: expect.stringContaining('signs of processing'),
    })
  })

  it('names the largest part of what leaves it undecided, and its mend', () => {
    const clicked = at(16, 125.5, { cornersRel: 0.02, common: { clickBiasRel: 0.003 } })
    expect(judged([clicked], { distanceM: 16 }).mend).toMatch(
      /^zoom in and click more exactly, or carry a larger board\. The largest .* is how exactly board was clicked$/,
    )
    const snapped = at(16, 125.5, { cornersRel: 0.02 })
    expect(judged([snapped], { distanceM: 16 }).mend).toMatch(
      /^carry a larger board, or walk more marks\. The largest .* is how exactly the corners of board are known$/,
    )
    const sized = at(16, 125.5, { common: { sizeRel: 0.03 } })
    expect(judged([sized], { distanceM: 16 }).mend).toMatch(
      /^measure it more exactly .* is the size of board$/,
    )
    const paced = judged(walked, { distanceM: 16.8 }, { distanceToleranceM: 2 })
    expect(paced.mend).toMatch(
      /^measure distances more exactly and write distance.tolerance.* is the measured distance of each mark$/,
    )
  })

  it('writes its reason in feet where the walk is in feet', () => {
    expect(judged([at(16, 130)], { distanceM: 16 }, { units: 'imperial' }).why).toBe(
      '38.5 to 40.8 px/ft with detail at the 52.49 ft mark, 125 px/m (38.1 px/ft) needed',
    )
  })

  it('is judged by detail, the verdict by pixels beside it', () => {
    expect(judged([at(16, 160, { factor: 0.7 })], { distanceM: 16 })).toMatchObject({
      verdict: 'not met',
      byPixels: 'met',
    })
    expect(judged([at(16, 160, { factor: 0.7 })], { distanceM: 16 }, { judge: 'pixels' })).toMatchObject({
      verdict: 'met',
      basis: 'pixels',
      value: expect.closeTo(160, 9),
    })
  })

  it('is not shown where detail could not be measured, and says why', () => {
    const message = 'detail not measured on the level edges: they need 4 px of plain background on both sides'
    const problems = [{ code: 'detail-no-quiet-ground', message }]
    expect(judged([at(16, 160, { factor: null, problems })], { distanceM: 16 })).toMatchObject({
      verdict: 'not shown',
      byPixels: 'met',
      value: null,
      why: `${message} at the 16 m mark`,
      mend: 'carry a board, or judge by pixels',
    })
  })

  it('is not shown where a chart was too noisy to tell detail, and asks for a larger one', () => {
    const message = 'the chart is too noisy for its sharpness to be measured'
    const problems = [{ code: 'chart-too-noisy', message }]
    const chart = at(16, 160, { factor: null, problems, method: 'chart' })
    expect(judged([chart], { distanceM: 16 })).toMatchObject({
      why: `${message} at the 16 m mark`,
      mend: 'carry a larger chart, or judge by pixels',
    })
  })

  it('is not met where the still is shown unusable, on either basis', () => {
    const noisy = at(16, 160, { roseK: { recognise: { k: 2.1, U: 0.06 } } })
    for (const judge of ['detail', 'pixels'] as const) {
      expect(judged([noisy], { distanceM: 16 }, { judge })).toMatchObject({
        verdict: 'not met',
        byPixels: 'met',
        why: 'nothing can be made out on the board at the 16 m mark. Too noisy: a stroke stands out only 2.1 times, 5 needed',
      })
    }
    const message = 'washed out: 83 % of the plate is at white, contrast 4 %'
    const washedOut = at(16, 160, { tone: null, factor: null, problems: [{ code: 'washed-out', message }] })
    expect(judged([washedOut], { distanceM: 16 })).toMatchObject({ verdict: 'not met', byPixels: 'met' })
    expect(judged([washedOut], { distanceM: 16 }).why).toBe(
      `nothing can be made out on the board at the 16 m mark. W${message.slice(1)}`,
    )
  })

  it('is not shown where k straddles the least one, and where only a finer element was told and fails', () => {
    const straddling = at(16, 160, { roseK: { recognise: { k: 5, U: 1 } } })
    expect(judged([straddling], { distanceM: 16 }).verdict).toBe('not shown')
    const finer = at(16, 160, { roseK: { recognise: null, identify: { k: 2, U: 0.1 } } })
    expect(judged([finer], { distanceM: 16 }).verdict).toBe('not shown')
  })

  it('is not met where already a coarser element is shown not to stand out', () => {
    const coarser = at(16, 160, { roseK: { observe: { k: 2, U: 0.1 }, recognise: null } })
    expect(judged([coarser], { distanceM: 16 }).verdict).toBe('not met')
  })

  it('is not blocked by a k that could not be told', () => {
    expect(judged([at(16, 160, { roseK: { recognise: null } })], { distanceM: 16 }).verdict).toBe('met')
  })

  it('is not shown where the reference as held stays under the limit and held square would reach it', () => {
    const turned = { facing: 135, pose: { yaw: 28, pitch: 0, roll: 0 }, vertical: 135 }
    expect(judged([at(16, 118, turned)], { distanceM: 16 })).toMatchObject({
      verdict: 'not shown',
      byPixels: 'not shown',
      why: 'board turned 28 degrees at the 16 m mark. Held square to the camera it may reach the limit',
      mend: 'walk 16 m with it held square to the camera',
    })
    expect(judged([at(16, 118, { ...turned, pose: null })], { distanceM: 16 })).toMatchObject({
      verdict: 'not shown',
      why: 'board looks shortened at the 16 m mark. Held square to the camera it may reach the limit',
    })
  })

  it('is undecided, and no turn is blamed, where a square reference lies just under the limit', () => {
    const pose = { yaw: 6, pitch: 0, roll: 0 }
    const square = (density: number) =>
      judged([at(16, density, { vertical: density, facing: density, pose })], { distanceM: 16 })
    for (const density of [123.5, 124.5, 125.5]) {
      expect(square(density).verdict).toBe('not shown')
      expect(square(density).why).toMatch(/lies inside that interval/)
    }
  })

  it('is not met far from where anybody stood, however loose the tape is said to be', () => {
    const loose = (distanceM: number): PromiseResult =>
      judged(
        [1.5, 2, 3].map((d) => at(d, 2100 / d)),
        { distanceM, grade: 'monitor' },
        { distanceToleranceM: 3 },
      )
    expect(loose(3.25).verdict).toBe('met')
    expect(loose(6)).toMatchObject({ verdict: 'not shown', byPixels: 'not shown' })
    expect(loose(6).why).toContain('beyond the farthest usable mark, 3 m')
    expect(loose(1)).toMatchObject({ verdict: 'not shown', byPixels: 'not shown' })
  })

  it('stays not met unless the measured pose explains it by itself', () => {
    const pose = { yaw: 20, pitch: 20, roll: 0 }
    const both = (facing: number, known: StillParts['pose'] = pose) =>
      judged([at(16, 118, { facing, pose: known })], { distanceM: 16 })
    expect(both(135)).toMatchObject({ verdict: 'not shown', byPixels: 'not shown' })
    expect(both(126), 'by its value only').toMatchObject({ verdict: 'not met', byPixels: 'not met' })
    expect(both(135, null), 'no pose').toMatchObject({ verdict: 'not met', byPixels: 'not met' })
  })

  it('is not met by a turned reference that would fail for want of detail all the same', () => {
    const turned = at(16, 118, {
      facing: 135,
      pose: { yaw: 28, pitch: 0, roll: 0 },
      vertical: 135,
      factor: 0.8,
    })
    expect(judged([turned], { distanceM: 16 })).toMatchObject({ verdict: 'not met', byPixels: 'not shown' })
  })

  it('is not shown at a mark left out as suspect, with the distance it fits', () => {
    const wrong = walked.map((part) => (part.distanceM === 16 ? at(16, 2100 / 19.2) : part))
    expect(judged(wrong, { distanceM: 16 })).toMatchObject({
      verdict: 'not shown',
      byPixels: 'not shown',
      value: null,
      why: 'the 16 m mark is left out: judging by the others it was taken at 19.20 m',
      mend: 'check the distance and the still, and walk it again',
    })
  })

  it('takes a mark within the tolerance of its distance, and judges the distance that was promised', () => {
    expect(judged([at(16.04, 130)], { distanceM: 16 })).toMatchObject({
      verdict: 'met',
      value: expect.closeTo((130 * 16.04) / 16, 9),
    })
    expect(judged([at(16.04, 130)], { distanceM: 16 }).why).toContain('at the 16.04 m mark')
    expect(judged([at(16.06, 130)], { distanceM: 16 }).why).toContain('no measured still at 16 m')
  })
})

describe('a promise between the marks', () => {
  it('is met or not met by the range, with the density the fit gives there', () => {
    const met = judged(walked, { distanceM: 14 })
    expect(met).toMatchObject({ verdict: 'met', byPixels: 'met' })
    expectNear(met.value!, 150, { rel: 1e-6 }, '2100 / 14')
    expect(met.why).toMatch(
      /^no measured still at 14 m. 14\d\.\d to 15\d\.\d px\/m with detail by all marks, 125 needed$/,
    )
    expect(judged(walked, { distanceM: 18 })).toMatchObject({ verdict: 'not met', byPixels: 'not met' })
    expect(judged(walked, { distanceM: 16.8 })).toMatchObject({ verdict: 'not shown', byPixels: 'not shown' })
  })

  it('is never met beyond the farthest usable mark, and may be not met there', () => {
    const beyond = judged(walked, { distanceM: 25, grade: 'observe' })
    expect(beyond).toMatchObject({ verdict: 'not shown', byPixels: 'not shown' })
    expect(beyond.why).toBe(
      'no measured still at 25 m. Nothing is shown to hold beyond the farthest usable mark, 20 m',
    )
    expect(beyond.mend).toBe('walk 25 m')
    expect(judged(walked, { distanceM: 25 }).verdict).toBe('not met')
  })

  it('is never met nearer than the nearest usable mark, by pixels than 0.9 of it, and names the walk that would show it', () => {
    const nearer = judged(walked, { distanceM: 2.5, grade: 'identify' })
    expect(nearer).toMatchObject({ verdict: 'not shown', byPixels: 'not shown' })
    expect(nearer.why).toBe(
      'no measured still at 2.5 m. Nothing is shown to hold nearer than the nearest usable mark, 4 m',
    )
    expect(nearer.mend).toBe('walk 2.5 m')
    expect(judged(walked, { distanceM: 3.7 })).toMatchObject({ verdict: 'not shown', byPixels: 'met' })
    expect(judged(walked, { distanceM: 3.7 }, { judge: 'pixels' }).verdict).toBe('met')
    expect(judged(walked, { distanceM: 3.5 }, { judge: 'pixels' }).verdict).toBe('not shown')
    expect(judged(walked, { distanceM: 2.5, grade: 'inspect' }).verdict, 'shown false without a still').toBe(
      'not met',
    )
  })

  it('counts a washed-out mark as no usable one, and by pixels as one', () => {
    const washedOut = { tone: null, factor: null, problems: [{ code: 'washed-out', message: 'washed out' }] }
    const parts = walked.map((part) => (part.distanceM === 20 ? { ...part, ...washedOut } : part))
    expect(judged(parts, { distanceM: 18, grade: 'observe' }, { judge: 'pixels' })).toMatchObject({
      verdict: 'not shown',
      byPixels: 'met',
    })
  })

  it('is not met by pixels where a neighbouring mark is not shown to make the element out', () => {
    const parts = walked.map((part) =>
      part.distanceM === 12
        ? { ...part, roseK: { recognise: { k: 5, U: 2 }, observe: { k: 9, U: 1 } } }
        : part,
    )
    const result = judged(parts, { distanceM: 14 }, { judge: 'pixels' })
    expect(result).toMatchObject({ verdict: 'not shown', byPixels: 'met' })
    expect(result.why).toBe('no measured still at 14 m. A stroke is not shown to stand out at the 12 m mark')
    expect(result.mend).toBe('walk 14 m')
  })

  it('goes by the bracketing marks where their detail differs', () => {
    const parts = MARKS.map((d, i) => at(d, 2100 / d, { factor: 1 - 0.1 * i, factorU: 0.01 }))
    // With detail: 525, 315, 187, 123 ...: it holds at 9 m and fails at 12 m.
    expect(judged(parts, { distanceM: 8 })).toMatchObject({
      verdict: 'met',
      value: null,
      why: 'no measured still at 8 m. It holds at the 9 m mark and fails at the 12 m mark',
    })
    expect(judged(parts, { distanceM: 10 })).toMatchObject({ verdict: 'not shown', byPixels: 'met' })
    expect(judged(parts, { distanceM: 13 })).toMatchObject({ verdict: 'not met', byPixels: 'met' })
  })

  it('is not shown nearer than where the near marks stop failing', () => {
    const glare = { recognise: { k: 1, U: 0.5 } }
    const parts = MARKS.map((d) => at(d, 2100 / d, d < 9 ? { roseK: glare } : {}))
    expect(judged(parts, { distanceM: 8 })).toMatchObject({
      verdict: 'not shown',
      why: 'no measured still at 8 m. Nothing is shown to hold nearer than the nearest usable mark, 9 m',
      mend: 'walk 8 m',
    })
    expect(judged(parts, { distanceM: 10 }).verdict).toBe('met')
  })

  it('is met between two marks, not shown beyond them, or with no still at all', () => {
    const two = [at(4, 500), at(6, 340)]
    expect(judged(two, { distanceM: 5 }, { judge: 'pixels' }).verdict).toBe('met')
    expect(judged(two, { distanceM: 7 }, { judge: 'pixels' }).verdict).toBe('not shown')
    expect(judged([], { distanceM: 5 })).toMatchObject({
      verdict: 'not shown',
      byPixels: 'not shown',
      value: null,
      decidedBy: null,
      why: 'no still in day could be measured yet',
      mend: 'give the stills their corners, or walk 5 m',
    })
    expect(judged(walked, { distanceM: 16, light: 'infrared', reference: 'plate' })).toMatchObject({
      why: 'no still of plate in infrared could be measured yet',
      mend: 'give the stills their corners, or walk 16 m',
    })
  })

  it('is not shown where the marks around were held turned', () => {
    const parts = MARKS.map((d) =>
      at(d, 1600 / d, { vertical: 2100 / d, facing: 2100 / d, pose: { yaw: 40, pitch: 0, roll: 0 } }),
    )
    expect(judged(parts, { distanceM: 14 })).toMatchObject({ verdict: 'not shown' })
    expect(judged(parts, { distanceM: 14 }).why).toBe(
      'no measured still at 14 m. Board turned 40 degrees at the 12 and 16 m marks. Held square to the camera it may reach the limit',
    )
    expect(judged(parts, { distanceM: 14 }).mend).toBe('walk 14 m with it held square to the camera')
  })
})

describe('a promise without a reference', () => {
  const both = [at(16, 130), at(16, 120, { reference: 'plate' })]

  it('is decided by the worst reference measured there, which the reason names', () => {
    expect(judged(both, { distanceM: 16 })).toMatchObject({
      reference: null,
      verdict: 'not met',
      byPixels: 'not met',
      value: expect.closeTo(120, 9),
    })
    expect(judged(both, { distanceM: 16 }).why).toMatch(/^plate: /)
    expect(judged(both, { distanceM: 16 }).decidedBy).toBe('plate')
  })

  it('is held against its own reference alone where it has one', () => {
    expect(judged(both, { distanceM: 16, reference: 'board' })).toMatchObject({
      reference: 'board',
      decidedBy: 'board',
      verdict: 'met',
    })
    expect(judged(both, { distanceM: 16, reference: 'board' }).why).toMatch(/^126\.5 to /)
  })

  it('leaves aside a reference that was not carried to that distance', () => {
    const parts = [at(16, 130), ...[3, 4, 5].map((d) => at(d, 2100 / d, { reference: 'plate' }))]
    expect(judged(parts, { distanceM: 16 })).toMatchObject({ verdict: 'met', decidedBy: 'board' })
    expect(judged(parts, { distanceM: 16 }).why).toMatch(/^board: /)
    expect(judged([at(16, 130)], { distanceM: 16 }).why).toMatch(/^126\.5 to /)
  })

  it('has the upper end of all references of the light together, named or not, and the lower end of its own', () => {
    const [alone, named, any] = [
      judged(both.slice(1), { distanceM: 16 }),
      judged(both, { distanceM: 16, reference: 'plate' }),
      judged(both, { distanceM: 16 }),
    ]
    const upward = ({ high, value }: PromiseResult): number => Math.log(high! / value!)
    // The normal distribution's 98.75 and 97.5 % points, by any table: 2.2414 and 1.9600.
    expectNear(upward(named) / upward(alone), 2.2414 / 1.96, { rel: 1e-4 })
    expect(named.low).toBe(alone.low)
    expect(any).toMatchObject({ low: named.low, high: named.high })
    const elsewhere = [both[1]!, at(16, 130, { light: 'infrared' })]
    expect(judged(elsewhere, { distanceM: 16 }).high).toBe(alone.high)
  })

  it('gives the worst verdict by pixels as well, whichever reference it is of', () => {
    const parts = [at(16, 130, { factor: 0.5 }), at(16, 120, { reference: 'plate', factor: null })]
    expect(judged(parts, { distanceM: 16 })).toMatchObject({ verdict: 'not met', byPixels: 'not met' })
  })
})

describe('a promise of a grade the grading has not', () => {
  it('is refused, with the grades there are', () => {
    expect(() => judged(walked, { distanceM: 16, grade: 'validate' })).toThrow(/has no grade validate/)
  })
})
