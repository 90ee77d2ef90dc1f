import { describe, expect, it } from 'vitest'
import { fitReadings, intervalOf } from '../../src/trial/fitReadings.js'
import { distanceWhere, fitReadingCurve } from '../../src/trial/readingCurve.js'
import { GUESS, simulatedAnswers, trueDistance } from '../support/simulatedReaders.js'

const MARKS_M = [6, 6.7, 7.5, 8.4, 9.3, 10.4, 11.6, 13, 14.5, 16]
const TRIAL = { readers: 5, cards: 12, cardsAMark: 3, marksM: MARKS_M }
const TRIALS = 40

describe('the distance at which readers fail', () => {
  // The whole table is bench/readingTrial.ts; 40 trials tell 90 to 98 % from 70 %, and three cards a mark from one.
  it.each([0.95, 0.5])(
    'holds the truth of simulated readers at %d',
    (share) => {
      const truth = Math.log(trueDistance(share))
      let held = 0
      let width = 0
      for (let trial = 0; trial < TRIALS; trial += 1) {
        const fit = fitReadings(simulatedAnswers(TRIAL, 1000 + trial), GUESS)!
        const { low, high } = intervalOf(fit, (curve) => Math.log(distanceWhere(curve, share)))
        if (low <= truth && truth <= high) held += 1
        width += (Math.exp(high) - Math.exp(low)) / distanceWhere(fit.curve, share) / TRIALS
      }
      expect(held / TRIALS).toBeGreaterThan(0.82)
      expect(width).toBeLessThan(0.45)
      expect(width).toBeGreaterThan(0.15)
    },
    60_000,
  )

  it('is the same whenever it is asked', () => {
    const answers = simulatedAnswers(TRIAL, 5)
    expect(fitReadings(answers, GUESS)).toEqual(fitReadings(answers, GUESS))
  })

  it('is not told of one reader or one card alone: how much others differ is unknown', () => {
    const answers = simulatedAnswers(TRIAL, 5)
    expect(
      fitReadings(
        answers.filter(({ reader }) => reader === 'reader 1'),
        GUESS,
      ),
    ).toBeNull()
    expect(
      fitReadings(
        answers.filter(({ card }) => card === 'card 1'),
        GUESS,
      ),
    ).toBeNull()
  })
})

describe('a curve of reading', () => {
  const counts = (right: number[]) => right.map((one, i) => ({ distanceM: 6 + 2 * i, right: one, asked: 70 }))

  it.each([
    ['all is read', [70, 70, 70, 70]],
    ['nothing is read', [0, 0, 0, 0]],
  ])('is not told where %s', (_, right) => {
    expect(fitReadingCurve(counts(right), GUESS)).toBeNull()
  })

  it('is not told of one mark', () => {
    expect(fitReadingCurve(counts([60]), GUESS)).toBeNull()
    expect(fitReadingCurve([...counts([60]), ...counts([50])], GUESS)).toBeNull()
  })

  it('passes through the share at the distance it gives for it', () => {
    const curve = fitReadingCurve(counts([69, 60, 30, 5]), GUESS)!
    for (const share of [0.95, 0.5, 0.2]) {
      const fall = 1 + (distanceWhere(curve, share) / curve.halfM) ** curve.steepness
      expect(curve.guess + (0.98 - curve.guess) / fall).toBeCloseTo(share, 12)
    }
  })
})
