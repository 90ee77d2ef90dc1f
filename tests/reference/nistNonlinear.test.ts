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

// Two more of the same collection, of three and of four parameters, one of them of its highest level of difficulty: models, data, starts, certified values.
const others = [
  {
    name: 'Rat42, y = b1 / (1 + exp(b2 - b3 x))',
    model: ([b1, b2, b3]: Float64Array, x: number): number => b1! / (1 + Math.exp(b2! - b3! * x)),
    x: [9, 14, 21, 28, 42, 57, 63, 70, 79],
    y: [8.93, 10.8, 18.59, 22.33, 39.35, 56.11, 61.73, 64.62, 67.08],
    starts: [
      [100, 1, 0.1],
      [75, 2.5, 0.07],
    ],
    certified: [7.2462237576e1, 2.6180768402, 6.7359200066e-2],
    deviations: [1.7340283401, 8.8295217536e-2, 3.4465663377e-3],
    residualSum: 8.0565229338,
  },
  {
    name: 'MGH09, y = b1 (x^2 + b2 x) / (x^2 + b3 x + b4)',
    model: ([b1, b2, b3, b4]: Float64Array, x: number): number =>
      (b1! * (x * x + b2! * x)) / (x * x + b3! * x + b4!),
    x: [4, 2, 1, 0.5, 0.25, 0.167, 0.125, 0.1, 0.0833, 0.0714, 0.0625],
    y: [0.1957, 0.1947, 0.1735, 0.16, 0.0844, 0.0627, 0.0456, 0.0342, 0.0323, 0.0235, 0.0246],
    starts: [
      [25, 39, 41.5, 39],
      [0.25, 0.39, 0.415, 0.39],
    ],
    certified: [1.9280693458e-1, 1.9128232873e-1, 1.2305650693e-1, 1.3606233068e-1],
    deviations: [1.1435312227e-2, 1.9633220911e-1, 8.0842031232e-2, 9.0025542308e-2],
    residualSum: 3.0750560385e-4,
  },
]

describe.each(others)('$name', ({ model, x, y, starts, certified, deviations, residualSum }) => {
  it.each(starts.map((start) => ({ start })))('reaches the certified values from $start', ({ start }) => {
    const fit = levenbergMarquardt({
      start,
      residualCount: x.length,
      maxIterations: 2000,
      residuals: (parameters, out) => {
        for (const [i, at] of x.entries()) out[i] = y[i]! - model(parameters, at)
      },
    })
    expect(fit.ok, JSON.stringify(fit)).toBe(true)
    if (!fit.ok) return
    const { value } = fit
    expectNear(value.residualSum, residualSum, { rel: 1e-9 }, 'certified to eleven figures')
    for (const [j, parameter] of certified.entries()) {
      const near = { abs: 1e-6 * deviations[j]! }
      expectNear(value.parameters[j]!, parameter, near, 'a millionth of its standard deviation')
      const deviation = Math.sqrt((value.covariance[j]![j]! * value.residualSum) / value.dof)
      expectNear(deviation, deviations[j]!, { rel: 1e-5 }, 'central differences leave so much')
    }
  })
})
