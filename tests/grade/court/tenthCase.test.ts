import { describe, expect, it } from 'vitest'
import { judgeWalk } from '../../../src/grade/judgeWalk.js'
import type { JudgedStill, WalkJudgement } from '../../../src/grade/judgement.js'
import { seededRandom } from '../../../src/math/random.js'
import { wilson } from '../../support/riskCurves.js'
import { CLASSES, drawWalk, F, judgedStill, MARK_SETS, type StillFault } from '../../support/riskWalk.js'

// What no cause of the tape explains: one reference entered wrongly, all boards turned, pixels not square, a lens whose axis is not in the picture's middle.
const WALKS = 60
const [, , MARKS] = MARK_SETS
const PROMISED_M = 7

/** Judged walks of one kind of corner; `moved`: all of a still's corners, px to the right. */
function judged(
  hand: 'clicked' | 'snapped',
  fault: StillFault,
  limitRatio: number,
  movedPx = 0,
): WalkJudgement[] {
  const random = seededRandom(31)
  const carried = CLASSES[hand]
  return Array.from({ length: WALKS }, () => {
    const drawn = drawWalk(carried, MARKS!, random, { lights: ['day'], fault: () => fault })
    const stills = drawn.map((each): JudgedStill => {
      const corners = each.corners.map(([x, y]) => [x + movedPx, y]) as unknown as typeof each.corners
      return judgedStill({ ...each, corners })
    })
    const grades = [{ id: 'g', name: 'G', limit: F / PROMISED_M / limitRatio }]
    return judgeWalk({
      stills,
      grading: { id: 'one', name: 'one', source: 'this test', grades },
      judge: 'pixels',
      lights: ['day'],
      references: carried.map(([{ name }]) => name),
      promises: [{ grade: 'g', light: 'day', distanceM: PROMISED_M }],
      observations: [],
      distanceToleranceM: 0.05,
      lensKnown: false,
      promisedLens: null,
    })
  })
}

const metIn = (walks: readonly WalkJudgement[]): number =>
  walks.filter(({ promises }) => promises[0]!.verdict === 'met').length

describe('the tenth case', () => {
  it('boards that were all turned by 25 degrees are not called pixels that are not square without a word of the turn', () => {
    const walks = judged('snapped', { yawDeg: 25 }, 0.98)
    const told = walks.flatMap(({ findings }) => findings.filter(({ code }) => code === 'pixels-not-square'))
    for (const { message } of told) expect(message).toContain('held turned alike')
    expect(wilson(metIn(walks), WALKS)[0]).toBeLessThanOrEqual(0.04)
  })

  it.each(['clicked', 'snapped'] as const)(
    'pixels wider than high by 3 in 100 are told: %s (4 of 12 before)',
    (hand) => {
      const walks = judged(hand, { aspect: 1.03 }, 0.98)
      const told = walks.filter(({ findings }) => findings.some(({ code }) => code === 'pixels-not-square'))
      expect(told.length).toBeGreaterThanOrEqual(0.9 * WALKS)
    },
  )

  it('one reference 3 % larger than entered blames nothing else', () => {
    const walks = judged('clicked', { size: 1.03 }, 0.98)
    expect(walks.filter(({ findings }) => findings.length > 0).length).toBeLessThanOrEqual(0.05 * WALKS)
  })

  it('a lens whose axis lies 3 % of the width beside the middle promises nothing wrongly (25 % before)', () => {
    const walks = judged('snapped', {}, 0.98, 0.03 * 1920)
    expect(metIn(walks)).toBeLessThanOrEqual(0.04 * WALKS)
    expect(metIn(judged('snapped', {}, 1.05, 0.03 * 1920))).toBeGreaterThanOrEqual(0.9 * WALKS)
  })
})
