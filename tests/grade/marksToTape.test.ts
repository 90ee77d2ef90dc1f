import { describe, expect, it } from 'vitest'
import { marksToTape, type TapeWish } from '../../src/grade/marksToTape.js'
import { seededRandom } from '../../src/math/random.js'

const NOTHING: TapeWish = { plannedM: [], promisedM: [], expectedEndsM: [], nearestM: 0, units: 'metric' }
const distances = (wish: Partial<TapeWish>): number[] =>
  marksToTape({ ...NOTHING, ...wish }).map(({ distanceM }) => distanceM)

describe('the marks worth taping', () => {
  it('stand at every promise and on either side of it, and number six at least, in any of 300 walks', () => {
    const random = seededRandom(11)
    for (let walk = 0; walk < 300; walk++) {
      const promisedM = Array.from({ length: 1 + Math.floor(random.uniform() * 3) }, () =>
        Number((3 + 40 * random.uniform()).toFixed(1)),
      )
      const plannedM = Array.from({ length: Math.floor(random.uniform() * 5) }, () =>
        Number((2 + 40 * random.uniform()).toFixed(1)),
      ).sort((a, b) => a - b)
      const marks = distances({ promisedM, plannedM })
      const told = `promised ${promisedM.join(', ')}, planned ${plannedM.join(', ')}: ${marks.join(', ')}`
      expect(marks.length, told).toBeGreaterThanOrEqual(6)
      expect(
        marks.every((one, index) => index === 0 || one - marks[index - 1]! > 0.01),
        told,
      ).toBe(true)
      for (const distanceM of promisedM) {
        const nearest = Math.min(...marks.map((mark) => Math.abs(mark - distanceM)))
        expect(nearest, told).toBeLessThanOrEqual(0.01)
        expect(
          marks.some((mark) => mark > distanceM * 1.07 && mark < distanceM * 1.61),
          told,
        ).toBe(true)
        expect(
          marks.some((mark) => mark < distanceM / 1.07 && mark > distanceM / 1.9),
          told,
        ).toBe(true)
      }
      for (const distanceM of plannedM) {
        expect(Math.min(...marks.map((mark) => Math.abs(mark - distanceM)))).toBeLessThanOrEqual(0.01)
      }
      expect(marks[0]! * 2.5, told).toBeLessThanOrEqual(marks.at(-1)!)
    }
  })

  it('that are planned already and do, are left as they are', () => {
    const plannedM = [4, 6, 9, 12, 16, 20]
    expect(distances({ plannedM, promisedM: [16] })).toEqual(plannedM)
    expect(distances({ plannedM, promisedM: [16, 5] })).toEqual([4, 5, 6, 9, 12, 16, 20])
  })

  it('say what each is for, and are round figures in the units of the walk', () => {
    expect(marksToTape({ ...NOTHING, promisedM: [16] })).toEqual([
      { distanceM: 5, purpose: 'fit' },
      { distanceM: 7.5, purpose: 'fit' },
      { distanceM: 9.5, purpose: 'fit' },
      { distanceM: 12, purpose: 'before' },
      { distanceM: 16, purpose: 'promise' },
      { distanceM: 20, purpose: 'beyond' },
    ])
    for (const distanceM of distances({ promisedM: [52 * 0.3048], units: 'imperial' })) {
      expect(Math.abs(distanceM / 0.3048 - Math.round(distanceM / 0.3048))).toBeLessThan(1e-5)
    }
  })

  it('bracket the expected ends of grades where nothing is promised, within a walk', () => {
    const marks = distances({ expectedEndsM: [196, 98, 39.2, 19.6, 9.8, 2.4] })
    expect(marks.at(-1)).toBe(25)
    for (const endM of [19.6, 9.8]) {
      expect(marks.some((mark) => mark < endM && mark > endM / 1.6)).toBe(true)
      expect(marks.some((mark) => mark > endM && mark < endM * 1.6)).toBe(true)
    }
  })

  it('go from near to far where nothing at all is known, and no nearer than the view begins', () => {
    expect(distances({})).toEqual([3, 4.5, 7, 10, 15, 22])
    expect(distances({ promisedM: [12], nearestM: 6 }).every((mark) => mark >= 6)).toBe(true)
    expect(distances({ plannedM: [2] })).toEqual([2, 3, 4, 5, 6.5, 8])
  })
})
