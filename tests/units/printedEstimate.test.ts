import { describe, expect, test } from 'vitest'
import { seededRandom } from '../../src/math/random.js'
import { figuresFor } from '../../src/units/figures.js'
import { printedEstimate, printedUncertainty, printedValue } from '../../src/units/printedEstimate.js'

const GUM =
  'JCGM 100:2008, 7.2.6: two significant digits of the uncertainty; the intervals outward are this project’s convention'

describe(`figures in print (${GUM})`, () => {
  test.each([
    [{ value: 10.057_62, low: 10.030_6, high: 10.084_6 }, [], '10.058', '10.030', '10.085'],
    [{ value: 124.962, low: 110.1, high: 139.9 }, [], '125', '110', '140'],
    [{ value: 124.962, low: 110.1, high: 139.9 }, [125], '124.96', '110.10', '139.90'],
    [{ value: 69.93, low: 69.31, high: 70.55 }, [], '69.93', '69.31', '70.55'],
    [{ value: 2.05, low: 2.018, high: 2.117 }, [], '2.050', '2.018', '2.117'],
    [{ value: 1.1, low: 1.1, high: 1.1 }, [], '1.1', '1.1', '1.1'],
    [{ value: 5675, low: 5403, high: 5947 }, [], '5675', '5403', '5947'],
  ])('%o against %o', (estimate, limits, value, low, high) => {
    expect(printedEstimate(estimate, limits)).toEqual({ value, low, high })
  })

  test('3,000 drawn estimates: no printed interval is narrower than its own, none wider than a step on each side, no figure changes sides of a limit', () => {
    const random = seededRandom(20)
    const units = ['metric', 'imperial'] as const
    /** A little to either side: no nearer than nine decimals can part. */
    const beside = (): number => (random.uniform() < 0.5 ? -1 : 1) * 10 ** (-2 - 4 * random.uniform())
    for (let draw = 0; draw < 3_000; draw += 1) {
      const value = 10 ** (4 * random.uniform() - 0.5)
      const half = value * 10 ** (-4 * random.uniform())
      const low = value - half * (0.5 + random.uniform())
      const high = value + half * (0.5 + random.uniform())
      const limits = [value * (1 + beside()), low * (1 + beside()), 25, 62.5, 125, 250]
      const system = units[draw % 2]!
      const perM = system === 'metric' ? 1 : 0.3048
      const printed = figuresFor(system, limits).density({ value, low, high })
      const decimals = printed.value.split('.')[1]?.length ?? 0
      const [at, from, to] = [printed.value, printed.low, printed.high].map(Number) as [
        number,
        number,
        number,
      ]
      const step = 10 ** -decimals
      expect(from).toBeLessThanOrEqual(low * perM)
      expect(to).toBeGreaterThanOrEqual(high * perM)
      expect(low * perM - from).toBeLessThan(step * (1 + 1e-6))
      expect(to - high * perM).toBeLessThan(step * (1 + 1e-6))
      expect(Math.abs(at - value * perM)).toBeLessThanOrEqual((step / 2) * (1 + 1e-6))
      for (const limit of limits.map((each) => each * perM)) {
        expect([at >= limit, from >= limit, to >= limit]).toEqual([
          value * perM >= limit,
          low * perM >= limit,
          high * perM >= limit,
        ])
      }
    }
  })

  test('an uncertainty by itself has two digits and is never made smaller', () => {
    expect([0.1234, 14.02, 0.99, 0.00731, 272].map(printedUncertainty)).toEqual([
      '0.13',
      '15',
      '0.99',
      '0.0074',
      '272',
    ])
  })

  test('a figure without uncertainty is not rounded onto a limit', () => {
    expect(printedValue(124.96, 0, [125])).toBe('124.96')
    expect(printedValue(125.04, 0, [125])).toBe('125')
  })

  test('a distance is the same text in sentence and column, feet and metres alike', () => {
    expect(figuresFor('imperial').distance(16)).toBe('52.49 ft')
    expect(figuresFor('imperial').bareDistance(16)).toBe('52.49')
    expect(figuresFor('imperial').distance(45 * 0.3048)).toBe('45 ft')
    expect(figuresFor('metric').distances([4, 6.5, 9])).toBe('4, 6.5 and 9 m')
    expect(figuresFor('imperial').limit(125)).toBe('125 px/m (38.1 px/ft)')
    expect(figuresFor('imperial').bareLimit(125)).toBe('125 (38.1 px/ft)')
    expect(figuresFor('metric').bareLimit(62.5)).toBe('62.5')
  })

  test('a limit in feet is whole, so that what just reaches it is not printed below it', () => {
    const { limit, density } = figuresFor('imperial', [12])
    expect(limit(12)).toBe('12 px/m (3.6576 px/ft)')
    expect(density({ value: 12.3, low: 12.001, high: 12.6 }).low).toBe('3.6579')
  })

  test('a figure on a limit is as short as another, in feet too', () => {
    const { density } = figuresFor('imperial', [1500])
    expect(density({ value: 1500, low: 1470, high: 1530 }).value).toBe('457.2')
  })

  test('how far a grade holds is never rounded onto the distance promised', () => {
    const reach = { value: 15.6, low: 15.21, high: 15.996 }
    expect(figuresFor('metric', [], [16]).reach(reach)).toEqual({
      value: '15.600',
      low: '15.210',
      high: '15.996',
    })
    expect(figuresFor('metric').reach(reach).high).toBe('16.00')
  })
})
