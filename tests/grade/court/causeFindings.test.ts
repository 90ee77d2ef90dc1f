import { describe, expect, it } from 'vitest'
import { builtInGrading } from '../../../src/grade/gradings/builtInGradings.js'
import { judgeWalk } from '../../../src/grade/judgeWalk.js'
import type { WalkJudgement } from '../../../src/grade/judgement.js'
import type { Scene } from '../../../src/scene/scene.js'
import { expectNear } from '../../nearly.js'
import { stillOf, type StillParts } from '../stillOf.js'

const MARKS = [4, 6, 9, 12, 16, 20]
const F = 2000

type Density = (distanceM: number, light: string, reference: string) => number

function judged(
  density: Density,
  {
    lights = ['day'],
    references = ['board'],
    marksM = MARKS,
    promisedM = 12,
    cornersRel = 0.003,
    registered = null as Scene | null,
  } = {},
  vertical: Density = density,
): WalkJudgement {
  const stills = lights.flatMap((light) =>
    references.flatMap((reference) =>
      marksM.map((distanceM): StillParts => ({
        file: `stills/${light}/${distanceM}m ${reference}.png`,
        light,
        reference,
        distanceM,
        cornersRel,
        factor: null,
        horizontal: density(distanceM, light, reference),
        vertical: vertical(distanceM, light, reference),
      })),
    ),
  )
  return judgeWalk({
    stills: stills.map(stillOf),
    grading: builtInGrading('iec-62676-4-2014')!,
    judge: 'pixels',
    lights,
    references,
    promises: lights.map((light) => ({ grade: 'recognise', distanceM: promisedM, light })),
    observations: [],
    distanceToleranceM: 0.05,
    lensKnown: true,
    promisedLens: null,
    registered,
  })
}

const square = (d: number): number => F / d
const two = { lights: ['day', 'infrared'] }

describe('findings of the court', () => {
  it('tell where the tape measure starts with figure, interval and what to write, and free it in promises and ranges', () => {
    const { findings, promises, lens, marks } = judged((d) => F / (d + 0.5))
    expect(findings.map(({ code }) => code)).toEqual(['tape-begins-elsewhere'])
    const [{ message, value, low, high, light }] = findings as [(typeof findings)[0]]
    expect(message).toMatch(
      /^the tape measure starts 0\.\d+ m \(0\.\d+ to 0\.\d+\) in front of the lens; .*begins: 0\.\d+ m/,
    )
    expectNear(value!, 0.5, { rel: 0.02 })
    expect([low! < 0.5, high! > 0.5, light]).toEqual([true, true, null])
    expect(marks.some(({ leftOut }) => leftOut)).toBe(false)
    expectNear(lens[0]!.pixelsPerRadian.value, F, { rel: 0.002 }, 'believed to 0.2 m it is 1 % off')
    expectNear(promises[0]!.value!, F / 12, { rel: 0.002 }, 'counted from the lens')
  })

  it('accuse nobody of a zoom that the scene speaks against', () => {
    const zoomed: Density = (d, light) => (light === 'infrared' ? 1.03 : 1) * square(d)
    const codes = (scale: number | null): string[] => {
      const motion = {
        turn: null,
        shift: { x: 0, y: 0 },
        u: { turn: 0, shift: 0.5, scale: 5e-4 },
        matches: 300,
      }
      const lights = scale === null ? [] : [{ light: 'infrared', against: 'day', scale, ...motion }]
      return judged(zoomed, { ...two, registered: { stills: [], lights } }).findings.map(({ code }) => code)
    }
    expect(codes(null)).toContain('zoomed-between-lights')
    expect(codes(1)).not.toContain('zoomed-between-lights')
    // Told once, with the figures of the marks.
    expect(codes(1.03).filter((code) => code === 'zoomed-between-lights')).toHaveLength(1)
  })

  it('tell a tape that begins behind the lens by a negative figure', () => {
    const [finding] = judged((d) => F / (d - 0.4)).findings
    expect(finding!.code).toBe('tape-begins-elsewhere')
    expectNear(finding!.value!, -0.4, { rel: 0.05 })
    expect(finding!.message).toMatch(/behind the lens; .*begins: -0\.\d+ m/)
  })

  it('tell a zoom and a move between lights, and which light', () => {
    const zoomed = judged((d, light) => (light === 'day' ? F / d : (1.1 * F) / d), two)
    expect(zoomed.findings).toMatchObject([{ code: 'zoomed-between-lights', light: 'infrared' }])
    expectNear(zoomed.findings[0]!.value!, 0.1, { rel: 0.01 })
    const moved = judged((d, light) => F / (light === 'day' ? d : d + 0.6), two)
    expect(moved.findings).toMatchObject([{ code: 'moved-between-lights', light: 'infrared' }])
    expectNear(moved.findings[0]!.value!, 0.6, { rel: 0.1 })
    expect(moved.promises[1]!.value!, 'the light that moved is freed').toBeGreaterThan((0.99 * F) / 12)
  })

  it('tell sizes that disagree, and let each reference reach from its own figure to the other', () => {
    const { findings, promises } = judged(
      (d, _, reference) => (reference === 'plate' ? 1.06 : 1) * square(d),
      { references: ['board', 'plate'] },
    )
    expect(findings).toMatchObject([{ code: 'size-disagrees', reference: 'plate' }])
    expectNear(findings[0]!.value!, 0.06, { rel: 0.02 })
    const { low, high } = promises[0]!
    expect(low!).toBeLessThan(F / 12)
    expect(high!).toBeGreaterThan((1.06 * F) / 12)
  })

  it('let a promise reach over both densities where pixels are not square', () => {
    const { findings, promises } = judged(square, {}, (d) => 0.92 * square(d))
    expect(findings.map(({ code }) => code)).toEqual(['pixels-not-square'])
    expect(promises[0]!.low!).toBeLessThan((0.92 * F) / 12)
    expect(promises[0]!.high!).toBeGreaterThan(F / 12)
  })

  it('blame a turn for pixels that are not square only where the corners leave it open', () => {
    const told = (by: number, cornersRel: number): string =>
      judged(square, { cornersRel }, (d) => by * square(d))
        .findings.map(({ message }) => message)
        .join()
    for (const by of [0.92, 1.09]) {
      expect(told(by, 0.008)).toMatch(/are not square, .*always held turned alike$/)
      expect(told(by, 0.003)).toMatch(/are not square, or the sides of the reference are not as entered$/)
    }
  })

  it('are what a promise hangs on where they widen its interval: told in place of tape and clicks', () => {
    const { promises } = judged((d, _, reference) => (reference === 'plate' ? 1.06 : 1) * square(d), {
      references: ['board', 'plate'],
      promisedM: 16,
    })
    expect(promises[0]!.verdict).toBe('not shown')
    expect(promises[0]!.mend).toMatch(
      /^first settle what was found on the walk as a whole\. The largest part of the interval \((8|9)\d %\) is what the marks cannot settle \(a size entered wrongly\)$/,
    )
    const honest = judged(square, { promisedM: 16 }).promises[0]!
    expect(honest.mend).toMatch(
      /The largest part .* is (where the tape measure starts|the measured distance of each mark|how exactly)/,
    )
  })

  it('tell a mark that fits none of the others, and leave it out alone', () => {
    const { findings, lens, marks } = judged((d) => F / (d === 16 ? 19.2 : d))
    expect(findings.map(({ code }) => code)).toEqual(['mark-left-out'])
    const { value, low, high } = findings[0]!
    expectNear(value!, 19.2, { rel: 1e-3 })
    expect([low! < 19.2, high! > 19.2]).toEqual([true, true])
    expectNear(lens[0]!.suspect!.fits, value!, { rel: 1e-9 })
    expect(marks.filter(({ leftOut }) => leftOut).map(({ distance }) => distance)).toEqual([16])
  })

  it('tell in each light its own wrong mark', () => {
    const { marks } = judged((d, light) => F / (d === (light === 'day' ? 9 : 16) ? 1.2 * d : d), two)
    const out = marks.filter(({ leftOut }) => leftOut).map(({ light, distance }) => `${light} ${distance}`)
    expect(out).toEqual(['day 9', 'infrared 16'])
  })

  it('say that nothing explains marks of which every one is wrong, and blame one at most', () => {
    const wrong = [1.3, 0.8, 1.2, 0.7, 1.25, 0.85]
    const { findings, marks } = judged((d) => F / (d * wrong[MARKS.indexOf(d)]!))
    expect(findings.map(({ code }) => code)).toContain('marks-scatter')
    expect(findings.every(({ value, low, high }) => low! <= value! && value! <= high!)).toBe(true)
    expect(marks.filter(({ leftOut }) => leftOut).length).toBeLessThanOrEqual(1)
  })

  it('are none for one mark, two, all at one distance, and honest walks', () => {
    for (const marksM of [[4], [4, 9], MARKS]) expect(judged(square, { marksM }).findings).toEqual([])
    expect(judged(square, { ...two, references: ['board', 'plate'] }).findings).toEqual([])
  })
})
