import { describe, expect, it } from 'vitest'
import { levenbergMarquardt } from '../../src/math/levenbergMarquardt.js'
import { seededRandom } from '../../src/math/random.js'
import { expectNear } from '../nearly.js'

describe('the solver of least squares', () => {
  it('walks down the banana valley of Rosenbrock (Comput. J. 3 (1960) 175) to (1, 1)', () => {
    const fit = levenbergMarquardt({
      start: [-1.2, 1],
      residualCount: 2,
      residuals: ([a, b], out) => {
        out[0] = 10 * (b! - a! * a!)
        out[1] = 1 - a!
      },
    })
    expect(fit.ok, JSON.stringify(fit)).toBe(true)
    if (!fit.ok) return
    expectNear(fit.value.parameters[0]!, 1, { abs: 1e-8 })
    expectNear(fit.value.parameters[1]!, 1, { abs: 1e-8 })
  })

  it('weights by what the residuals are divided by', () => {
    const values = [1, 3]
    const sigma = [1, 0.5]
    const fit = levenbergMarquardt({
      start: [0],
      residualCount: 2,
      residuals: ([a], out) => {
        for (const i of [0, 1]) out[i] = (values[i]! - a!) / sigma[i]!
      },
    })
    expect(fit.ok, JSON.stringify(fit)).toBe(true)
    if (!fit.ok) return
    expectNear(fit.value.parameters[0]!, (1 + 4 * 3) / 5, { rel: 1e-9 })
    expectNear(fit.value.covariance[0]![0]!, 1 / 5, { rel: 1e-9 })
  })

  it('names parameters that the residuals do not determine', () => {
    const fit = levenbergMarquardt({
      start: [1, 2],
      residualCount: 3,
      residuals: ([a, b], out) => {
        for (const i of [0, 1, 2]) out[i] = a! + b! - i
      },
    })
    expect(fit).toMatchObject({ ok: false, code: 'not-determined' })
  })

  it('names a parameter that nothing depends on', () => {
    const fit = levenbergMarquardt({
      start: [1, 2],
      residualCount: 3,
      residuals: ([a], out) => {
        for (const i of [0, 1, 2]) out[i] = a! - i
      },
    })
    expect(fit).toMatchObject({ ok: false, code: 'not-determined' })
  })

  it('never starts from residuals that are not finite', () => {
    const fit = levenbergMarquardt({
      start: [-1],
      residualCount: 1,
      residuals: ([a], out) => (out[0] = Math.log(a!)),
    })
    expect(fit).toMatchObject({ ok: false, code: 'not-finite' })
  })

  it('steps back from where residuals are not finite', () => {
    // A full Gauss-Newton step from 3 lands below zero, where the logarithm is not a number.
    const fit = levenbergMarquardt({
      start: [3],
      residualCount: 1,
      residuals: ([a], out) => (out[0] = Math.log(a!)),
    })
    expect(fit.ok, JSON.stringify(fit)).toBe(true)
    if (fit.ok) expectNear(fit.value.parameters[0]!, 1, { abs: 1e-9 })
  })

  it('says so where the steps given are too few', () => {
    const fit = levenbergMarquardt({
      start: [-1.2, 1],
      residualCount: 2,
      maxIterations: 3,
      residuals: ([a, b], out) => {
        out[0] = 10 * (b! - a! * a!)
        out[1] = 1 - a!
      },
    })
    expect(fit).toMatchObject({ ok: false, code: 'not-converged' })
  })

  it('settles at an exact start and with every parameter held', () => {
    const problem = {
      residualCount: 2,
      residuals: ([a]: Float64Array, out: Float64Array) => out.fill(a! - 2),
    }
    const exact = levenbergMarquardt({ ...problem, start: [2] })
    expect(exact.ok && exact.value.residualSum).toBe(0)
    const held = levenbergMarquardt({ ...problem, start: [5], fixed: [true] })
    expect(held.ok && held.value.residualSum).toBe(18)
    expect(held.ok && held.value.parameters).toEqual([5])
  })

  it('throws for fewer residuals than parameters', () => {
    expect(() => levenbergMarquardt({ start: [1, 2], residualCount: 1, residuals: () => undefined })).toThrow(
      /held/,
    )
  })

  it('leaves its start untouched and gives the same answer twice', () => {
    const start = Object.freeze([3, 1])
    const fit = () =>
      levenbergMarquardt({
        start,
        residualCount: 3,
        residuals: ([a, b], out) => {
          for (const x of [1, 2, 3]) out[x - 1] = a! * Math.exp(-b! * x) - 1 / x
        },
      })
    expect(fit()).toEqual(fit())
    expect(start).toEqual([3, 1])
  })

  it('settles where data are free of noise and a parameter is truly zero', () => {
    // A blurred step whose tilt is 0: the last steps are rounding only, and none of them may count as not converged.
    const logistic = (x: number) => 1 / (1 + Math.exp(-x))
    const fit = levenbergMarquardt({
      start: [9.2, 0.01, 20, 180, 1.4],
      residualCount: 400,
      residuals: ([at, tilt, low, high, width], out) => {
        for (let i = 0; i < 400; i++) {
          const x = (i % 20) + 0.5
          const y = Math.floor(i / 20) - 9.5
          out[i] =
            low! +
            (high! - low!) * logistic((x - at! - tilt! * y) / width!) -
            (40 + 160 * logistic((x - 10) / 2))
        }
      },
    })
    expect(fit.ok, JSON.stringify(fit)).toBe(true)
    if (!fit.ok) return
    for (const [j, truth] of [10, 0, 40, 200, 2].entries())
      expectNear(fit.value.parameters[j]!, truth, { abs: 1e-8 })
  })

  it('differentiates soundly where a parameter starts at zero and stays next to it', () => {
    const random = seededRandom(8)
    const noise = Array.from({ length: 40 }, () => 0.3 * random.normal())
    // Values near 2000 with a slope of a few millionths: a step of that size times 6e-6 would drown in their rounding.
    const fit = levenbergMarquardt({
      start: [0, 1900],
      residualCount: 40,
      residuals: ([slope, level], out) => {
        for (const i of noise.keys()) out[i] = level! * Math.exp(slope! * (i - 19.5)) - (2000 + noise[i]!)
      },
    })
    expect(fit.ok, JSON.stringify(fit)).toBe(true)
    if (!fit.ok) return
    const weighted = noise.reduce((sum, value, i) => sum + value * (i - 19.5), 0)
    const square = noise.reduce((sum, _, i) => sum + (i - 19.5) ** 2, 0)
    expectNear(
      fit.value.parameters[0]!,
      weighted / square / 2000,
      { rel: 1e-3 },
      'the linear answer, to first order',
    )
    expect(Math.abs(fit.value.parameters[0]!)).toBeLessThan(1e-4)
    expectNear(fit.value.covariance[0]![0]!, 1 / (square * 2000 ** 2), { rel: 1e-3 })
    expect(fit.value.iterations).toBeLessThan(30)
  })
})
