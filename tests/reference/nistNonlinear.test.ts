import { describe, expect, it } from 'vitest'
import { levenbergMarquardt, type LeastSquaresProblem } from '../../src/math/levenbergMarquardt.js'
import { expectNear } from '../nearly.js'

// NIST Statistical Reference Datasets, nonlinear regression, https://www.itl.nist.gov/div898/strd/nls/nls_main.shtml:
// Misra1a and BoxBOD, y = b1 (1 - exp(-b2 x)), data, starts and certified values.
const sets = [
  {
    name: 'Misra1a',
    x: [77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0],
    y: [10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.4, 75.47, 81.78],
    starts: [
      [500, 0.0001],
      [250, 0.0005],
    ],
    certified: [2.3894212918e2, 5.5015643181e-4],
    deviations: [2.7070075241, 7.2668688436e-6],
    residualSum: 1.2455138894e-1,
  },
  {
    name: 'BoxBOD',
    x: [1, 2, 3, 5, 7, 10],
    y: [109, 149, 149, 191, 213, 224],
    starts: [
      [1, 1],
      [100, 0.75],
    ],
    certified: [2.1380940889e2, 5.4723748542e-1],
    deviations: [1.2354515176e1, 1.0455993237e-1],
    residualSum: 1.1680088766e3,
  },
] as const

type Set = (typeof sets)[number]

function problemOf(set: Set, start: readonly number[]): LeastSquaresProblem {
  return {
    start,
    residualCount: set.x.length,
    residuals: ([b1, b2], out) => {
      for (const [i, x] of set.x.entries()) out[i] = set.y[i]! - b1! * (1 - Math.exp(-b2! * x))
    },
  }
}

const analytic = (set: Set) => (parameters: Float64Array, out: Float64Array) => {
  const [b1, b2] = parameters
  for (const [i, x] of set.x.entries()) {
    out[2 * i] = Math.exp(-b2! * x) - 1
    out[2 * i + 1] = -b1! * x * Math.exp(-b2! * x)
  }
}

const CERTIFIED = { rel: 2e-9 }

describe.each(sets)('$name', (set) => {
  for (const start of set.starts) {
    for (const how of ['numeric', 'analytic'] as const) {
      it(`reaches the certified values from (${start.join(', ')}) with a Jacobian that is ${how}`, () => {
        const problem = problemOf(set, start)
        const fit = levenbergMarquardt(how === 'numeric' ? problem : { ...problem, jacobian: analytic(set) })
        expect(fit.ok, JSON.stringify(fit)).toBe(true)
        if (!fit.ok) return
        const { parameters, residualSum, dof, covariance } = fit.value
        expect(dof).toBe(set.x.length - 2)
        expectNear(residualSum, set.residualSum, CERTIFIED, 'certified to eleven figures')
        for (const j of [0, 1] as const) {
          expectNear(parameters[j]!, set.certified[j], CERTIFIED, 'certified to eleven figures')
          const deviation = Math.sqrt((covariance[j]![j]! * residualSum) / dof)
          expectNear(deviation, set.deviations[j], { rel: 1e-7 }, 'certified standard deviation')
        }
      })
    }
  }

  it.each([0, 1] as const)('leaves parameter %d where it is held, and finds the other again', (held) => {
    const start: number[] = [...set.starts[1]]
    start[held] = set.certified[held]
    const fit = levenbergMarquardt({ ...problemOf(set, start), fixed: [held === 0, held === 1] })
    expect(fit.ok, JSON.stringify(fit)).toBe(true)
    if (!fit.ok) return
    expect(fit.value.parameters[held]).toBe(set.certified[held])
    expectNear(fit.value.parameters[1 - held]!, set.certified[1 - held]!, CERTIFIED)
    expect(fit.value.covariance[held]).toEqual([0, 0])
    expect(fit.value.dof).toBe(set.x.length - 1)
  })

  it('finds another minimum where the held value is wrong', () => {
    const start = [set.certified[0] * 1.1, set.certified[1]]
    const fit = levenbergMarquardt({ ...problemOf(set, start), fixed: [true, false] })
    expect(fit.ok && fit.value.residualSum > set.residualSum * 1.1).toBe(true)
    expect(fit.ok && fit.value.parameters[0]).toBe(set.certified[0] * 1.1)
  })
})
