import { describe, expect, it } from 'vitest'
import { combineRepeats } from '../../../src/grade/marks/combineRepeats.js'
import { chi2Quantile } from '../../../src/math/quantiles.js'
import { seededRandom } from '../../../src/math/random.js'
import { expectNear } from '../../nearly.js'
import { stillOf } from '../stillOf.js'

describe('combineRepeats', () => {
  it('leaves a single still its own density and interval', () => {
    const still = stillOf({ horizontal: 203, vertical: 199, cornersRel: 0.004, common: { sizeRel: 0.001 } })
    const [mark] = combineRepeats([still])
    const { onTarget, low, high } = still.measurement.density
    expect(mark?.onTarget).toEqual({ value: onTarget, low, high })
    expect(mark?.effectiveDensity).toEqual(still.measurement.effectiveDensity)
  })

  it('sorts marks by distance and takes distances within a centimetre as one', () => {
    const marks = combineRepeats(
      [12.01, 4, 12, 12.02, 6].map((distanceM) => stillOf({ distanceM, file: `${distanceM}.png` })),
    )
    expect(marks.map(({ distanceM, stills }) => [distanceM, stills.length])).toEqual([
      [4, 1],
      [6, 1],
      [12, 2],
      [12.02, 1],
    ])
  })

  it('averages repeats by weight and shrinks only their own noise, never what they share', () => {
    const repeats = [200, 202].map((horizontal, i) =>
      stillOf({
        horizontal,
        cornersRel: 0.01,
        common: { sizeRel: 0.003, clickBiasRel: 0.004 },
        file: `${i}.png`,
      }),
    )
    const [mark] = combineRepeats(repeats)
    const axis = mark!.axes.horizontal!
    expectNear(axis.densityPxPerM, Math.sqrt(200 * 202), { rel: 1e-12 }, 'equal weights, mean of logarithms')
    expectNear(axis.cornersRel, 0.01 / Math.sqrt(2), { rel: 1e-12 }, 'two alike')
    expect([axis.sizeRel, axis.clickBiasRel, axis.dof]).toEqual([0.003, 0.004, Infinity])
    const U = 2 * Math.hypot(0.01 / Math.sqrt(2), 0.003, 0.004)
    expectNear(mark!.onTarget.low, axis.densityPxPerM * (1 - U), { rel: 1e-12 }, 'k = 2, scatter not beyond')
  })

  it('weighs a snapped still over a clicked one', () => {
    const [mark] = combineRepeats([
      stillOf({ horizontal: 200, cornersRel: 0.001, file: 'a.png' }),
      stillOf({ horizontal: 210, cornersRel: 0.02, file: 'b.png' }),
    ])
    expectNear(mark!.onTarget.value, 200 * (210 / 200) ** (1 / 401), { rel: 1e-9 }, 'weights 400 to 1')
  })

  it('never lets an interval reach below nought, however far its repeats lie apart', () => {
    const [mark] = combineRepeats(
      [60, 240].map((horizontal, i) =>
        stillOf({ horizontal, vertical: horizontal, cornersRel: 0.002, file: `${i}.png` }),
      ),
    )
    expect(mark!.onTarget.low).toBe(0)
    expect(mark!.onTarget.high).toBeGreaterThan(240)
  })

  it('widens by Birge’s ratio only beyond the 99 % point of chi-square, with t instead of 2', () => {
    const repeats = (relApart: number) =>
      combineRepeats(
        [-relApart, relApart].map((by, i) =>
          stillOf({ horizontal: 200 * Math.exp(by), cornersRel: 0.01, file: `${i}.png` }),
        ),
      )[0]!
    // Chi-square of the pair is 2 (apart / 0.01)^2 at one degree of freedom.
    const edge = 0.01 * Math.sqrt(chi2Quantile(0.99, 1) / 2)
    expect(repeats(edge * 0.999).axes.horizontal!.dof).toBe(Infinity)
    const widened = repeats(edge * 1.001).axes.horizontal!
    expect(widened.dof).toBe(1)
    expectNear(widened.cornersRel, (edge * 1.001) / Math.sqrt(1), { rel: 1e-6 }, 'scatter of the mean of two')
    const { value, low } = repeats(edge * 1.001).onTarget
    expectNear(1 - low / value, 12.706 * edge * 1.001, { rel: 1e-3 }, 't at 97.5 %, one degree of freedom')
  })

  it('pools the scatter over the marks of a light and widens those without repeats too', () => {
    const marks = combineRepeats(
      [4, 4, 6, 6, 9].map((distanceM, i) =>
        stillOf({
          distanceM,
          horizontal: (2000 / distanceM) * (1 + (i % 2 === 0 ? 0.05 : -0.05)),
          cornersRel: 0.01,
          file: `${i}.png`,
        }),
      ),
    )
    expect(marks.map(({ axes }) => axes.horizontal!.dof)).toEqual([2, 2, 2])
    expect(marks[2]!.axes.horizontal!.cornersRel).toBeGreaterThan(0.04)
  })

  it('covers the truth 93 to 98 times in 100 with three repeats and a shared draw', () => {
    const random = seededRandom(5)
    const trials = 3000
    let covered = 0
    for (let trial = 0; trial < trials; trial++) {
      const shared = 1 + 0.004 * random.normal()
      const stills = [0, 1, 2].map((i) => {
        const side = (): number => 200 * shared * (1 + 0.01 * random.normal())
        return stillOf({
          horizontal: side(),
          vertical: side(),
          cornersRel: 0.01,
          common: { sizeRel: 0.004 },
          file: `${i}`,
        })
      })
      const { low, high } = combineRepeats(stills)[0]!.onTarget
      if (low <= 200 && 200 <= high) covered += 1
    }
    console.log(`three repeats: ${((100 * covered) / trials).toFixed(1)} % covered`)
    expect(covered / trials).toBeGreaterThanOrEqual(0.93)
    expect(covered / trials).toBeLessThanOrEqual(0.98)
  })

  it('combines detail and Rose’s k, leaving out what could not be told', () => {
    const [mark] = combineRepeats([
      stillOf({ factor: 0.8, factorU: 0.04, roseK: { identify: { k: 10, U: 2 } }, file: 'a' }),
      stillOf({ factor: 0.84, factorU: 0.04, roseK: { identify: null }, file: 'b' }),
      stillOf({ factor: null, roseK: { identify: { k: 11, U: 2 } }, file: 'c' }),
    ])
    expectNear(mark!.factor!.value, 0.82, { abs: 1e-12 }, 'mean of two')
    expectNear(mark!.factor!.U, 0.04, { abs: 1e-12 }, 'the stated one, larger than the scatter')
    expectNear(mark!.effectiveDensity!.value, 0.82 * mark!.onTarget.value, { rel: 1e-12 })
    expectNear(mark!.roseK['identify']!.k, 10.5, { abs: 1e-12 })
  })
})
