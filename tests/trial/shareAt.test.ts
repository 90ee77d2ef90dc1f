import { describe, expect, it } from 'vitest'
import { type CardRead, fitReadings, intervalOf, isSettled } from '../../src/trial/fitReadings.js'
import { distanceWhere } from '../../src/trial/readingCurve.js'
import { shareAt } from '../../src/trial/shareAt.js'
import { GUESS, simulatedAnswers } from '../support/simulatedReaders.js'

const MARKS = [6, 7, 8.2, 9.4, 10.7, 11.9, 13.1, 14.7]
const answers = simulatedAnswers({ readers: 5, cards: 12, cardsAMark: 3, marksM: MARKS }, 5)
const fit = fitReadings(answers, GUESS)!

/** The same number of characters right of each card, at each mark. */
const alike = (rights: Readonly<Record<number, number>>, readers = 3): CardRead[] =>
  Object.entries(rights).flatMap(([distance, right]) =>
    Array.from({ length: readers }, (_, r) =>
      ['one', 'two'].map((card) => ({ reader: `${r}`, card, distanceM: Number(distance), right, asked: 7 })),
    ).flat(),
  )

describe('the share read at a distance', () => {
  it('ends about where the distance of that share ends, so that no promise is met beyond the distance that is told', () => {
    expect(isSettled(fit)).toBe(true)
    for (const distanceM of [7, 8, 10, 13]) {
      const { low, value, high } = shareAt(distanceM, fit, answers)
      expect(low < value && value < high).toBe(true)
      const reach = (share: number) => intervalOf(fit, (curve) => Math.log(distanceWhere(curve, share)))
      // A little wider by readers' lapses, which weigh more where nearly all is read.
      const [near, far] = [Math.exp(reach(low).low), Math.exp(reach(Math.min(high, 0.9799)).high)]
      expect(near >= distanceM && near < 1.06 * distanceM).toBe(true)
      expect(far).toBeLessThanOrEqual(distanceM)
    }
  })

  it('falls with distance, and is that of the last mark beyond it', () => {
    const shares = [6, 8, 10, 12, 14.7].map((distanceM) => shareAt(distanceM, fit, answers))
    for (const [index, { value, low, high }] of shares.entries()) {
      const next = shares[index + 1]
      if (next !== undefined) expect(next.value < value && next.low <= low && next.high <= high).toBe(true)
    }
    expect(shareAt(40, fit, answers)).toEqual(shares.at(-1))
    expect(shareAt(1, fit, answers)).toEqual(shares[0])
  })

  it('is that of the marks where no curve tells: at least what is read there and beyond, at most what is read there and nearer', () => {
    const all = alike({ 6: 7, 9: 7, 12: 7 })
    expect(fitReadings(all, GUESS)).toBeNull()
    const [near, far] = [6, 12].map((distanceM) => shareAt(distanceM, null, all)) as [Read, Read]
    expect([near.value, near.high, far.high]).toEqual([1, 1, 1])
    // Three marks say more than one.
    expect(near.low).toBeGreaterThan(far.low)
    const none = shareAt(9, null, alike({ 9: 0 }))
    expect(none).toMatchObject({ value: 0, low: 0 })
    expect(none.high).toBeLessThan(0.2)
  })

  it('between two marks around the fall tells nothing but both', () => {
    const steep = alike({ 6: 7, 8: 7, 14: 0, 18: 0 })
    const curve = fitReadings(steep, GUESS)
    expect(curve === null || !isSettled(curve)).toBe(true)
    const { low, high } = shareAt(10, curve, steep)
    expect(low).toBeLessThan(0.1)
    expect(high).toBe(1)
  })

  it('is wider where readers differ than where chance alone does', () => {
    const same = shareAt(9, null, alike({ 9: 5 }, 6))
    const apart = alike({ 9: 5 }, 6).map((one) => ({ ...one, right: Number(one.reader) % 2 === 0 ? 7 : 3 }))
    const other = shareAt(9, null, apart)
    expect(other.value).toBeCloseTo(same.value, 12)
    expect(other.high - other.low).toBeGreaterThan(1.2 * (same.high - same.low))
  })
})

type Read = ReturnType<typeof shareAt>
